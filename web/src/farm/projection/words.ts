import { area } from "../../i18n/language";
import type { ProjectionMessages } from "./en";

/** The words of what a unit will hold, eat and have for sale. */
export const projectionWords = area<ProjectionMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
