import { area } from "../../i18n/language";
import type { SheetMessages } from "./en";

/** The words of the daybook on paper: printing a page, typing a page in. */
export const sheetWords = area<SheetMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
