import type { Language } from "../i18n/language";

const englishGroups = /^[+-]?\d{1,3}(,\d{3})+(\.\d+)?$/;

/**
 * parseNumber reads a number as people type it: spaces between thousands, a
 * comma or a point before the decimals. A comma is taken for a thousands mark
 * only in English and only where groups of three follow, so that 1,5 is one
 * and a half in both languages. null is no number.
 */
export function parseNumber(text: string, language: Language): number | null {
  const packed = text.replace(/[\s\u00a0\u202f]/g, "");
  const plain =
    language === "en" && englishGroups.test(packed) ? packed.replace(/,/g, "") : packed.replace(",", ".");
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : null;
}
