import { area } from "../i18n/language";
import type { TrainingMessages } from "./en";

/** The words of the page on which staff follow the training. */
export const trainingWords = area<TrainingMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
