import type { PageEntry } from "../shell/page-list";
import { FirstRun } from "./first-run";

/** The page of an empty house, open to whoever comes first. */
export const pages: readonly PageEntry[] = [{ path: "/first-run", view: FirstRun }];
