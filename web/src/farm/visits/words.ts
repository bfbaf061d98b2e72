import { area } from "../../i18n/language";
import type { VisitMessages } from "./en";

/** The words of visits: planning one, saying what it found, or why nobody went. */
export const visitWords = area<VisitMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
