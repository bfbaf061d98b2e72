import { area } from "../i18n/language";
import type { FirstRunMessages } from "./en";

/** The words of the first run. */
export const firstRunWords = area<FirstRunMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
