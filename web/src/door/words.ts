import { area } from "../i18n/language";
import type { DoorMessages } from "./en";

/** The words of the ways in. */
export const doorWords = area<DoorMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
