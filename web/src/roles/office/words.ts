import { area } from "../../i18n/language";
import type { OfficeMessages } from "./en";

/** The words of this role's pages; en.ts has them in English, fr.ts in French. */
export const officeWords = area<OfficeMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
