import { area } from "../../i18n/language";
import type { ManagerMessages } from "./en";

/** The words of this role's pages; en.ts has them in English, fr.ts in French. */
export const managerWords = area<ManagerMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
