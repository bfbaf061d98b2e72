import { area } from "../i18n/language";
import type { LearnMessages } from "./en";

/** The words of learning: cards, questions and what came of them. */
export const learnWords = area<LearnMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
