import { area } from "../i18n/language";
import type { CertificateMessages } from "./en";

/** The words of checking a certificate. */
export const certificateWords = area<CertificateMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
