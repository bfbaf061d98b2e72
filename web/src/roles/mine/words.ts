import { area } from "../../i18n/language";
import type { MineMessages } from "./en";

/** The words of this role's pages; en.ts has them in English, fr.ts in French. */
export const mineWords = area<MineMessages>({
  en: () => import("./en"),
  fr: () => import("./fr"),
});
