import { area } from "../i18n/language";
import type { LockMessages } from "./en";

/** The words of the lock: opening the phone, a forgotten PIN, leaving. */
export const lockWords = area<LockMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
