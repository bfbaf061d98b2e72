import { area } from "../../../i18n/language";
import type { LaterMessages } from "./en";

/** The words of the pages that the first one does not wait for. */
export const laterWords = area<LaterMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
