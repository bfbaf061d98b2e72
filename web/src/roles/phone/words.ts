import { area } from "../../i18n/language";
import type { PhoneMessages } from "./en";

/** The words of this role's pages; en.ts has them in English, fr.ts in French. */
export const phoneWords = area<PhoneMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
