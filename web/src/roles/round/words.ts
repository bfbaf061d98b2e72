import { area } from "../../i18n/language";
import type { RoundMessages } from "./en";

/** The words of this role's pages; en.ts has them in English, fr.ts in French. */
export const roundWords = area<RoundMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
