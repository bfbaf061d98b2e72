import type { PageEntry } from "../shell/page-list";
import { Leave } from "./leave";

/** The page on which a phone is left. */
export const pages: readonly PageEntry[] = [{ path: "/leave", view: Leave }];
