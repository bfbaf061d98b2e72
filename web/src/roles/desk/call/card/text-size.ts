// What a text message costs, as domain/text counts it: the default alphabet
// and the extension table of 3GPP TS 23.038, parts of 3GPP TS 23.040.
const basic =
  "@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !\"#¤%&'()*+,-./0123456789:;<=>?¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà";
const extension = "\f^{}\\[~]|€";

/** The Size of a text: its parts, and the letters outside the short alphabet that cut its room to less than half. */
export interface Size {
  parts: number;
  left: number;
  odd: string;
}

/** sizeOf counts a text as the network does; a letter of two units is never split. */
export function sizeOf(text: string): Size {
  const letters = [...text];
  const odd = [...new Set(letters.filter((l) => !basic.includes(l) && !extension.includes(l)))].join("");
  const width = odd ? (l: string) => l.length : (l: string) => (extension.includes(l) ? 2 : 1);
  const [one, part] = odd ? [70, 67] : [160, 153];
  const used = letters.reduce((sum, l) => sum + width(l), 0);
  if (used <= one) return { parts: used === 0 ? 0 : 1, left: one - used, odd };
  let [parts, left] = [0, 0];
  for (const letter of letters) {
    if (width(letter) > left) [parts, left] = [parts + 1, part];
    left -= width(letter);
  }
  return { parts, left, odd };
}

const signs: Record<string, string> = {
  "’": "'",
  "‘": "'",
  "“": '"',
  "”": '"',
  "«": '"',
  "»": '"',
  "…": "...",
  "–": "-",
  "—": "-",
  "\u00a0": " ",
  "\u202f": " ",
  œ: "oe",
  Œ: "OE",
};

/** plain says a text within the short alphabet where that loses only accents and the shape of signs. */
export function plain(text: string): string {
  return [...text.normalize("NFC")]
    .map((l) => {
      if (basic.includes(l) || extension.includes(l)) return l;
      return signs[l] ?? l.normalize("NFD").replace(/[\u0300-\u036f]/g, "");
    })
    .join("");
}
