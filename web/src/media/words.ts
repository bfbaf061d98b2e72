import { area } from "../i18n/language";
import type { MediaMessages } from "./en";

/** The words of photos and voice notes; en.ts has them in English, fr.ts in French. */
export const mediaWords = area<MediaMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
