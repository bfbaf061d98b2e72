import type { PageEntry } from "../shell/page-list";
import { Farm } from "./page/farm";

/** The pages of one farm, for everyone of the firm. */
export const pages: readonly PageEntry[] = [{ path: "/farms/:id", view: Farm }];
