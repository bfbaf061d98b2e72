import { area } from "../../i18n/language";
import type { DeskMessages } from "./en";

/** The words of this role's pages; en.ts has them in English, fr.ts in French. */
export const deskWords = area<DeskMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
