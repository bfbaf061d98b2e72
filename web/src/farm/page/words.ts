import { area } from "../../i18n/language";
import type { FarmPageMessages } from "./en";

/** The words of the page of one farm; the words of standings and reasons are in ../words. */
export const pageWords = area<FarmPageMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
