import type { PageEntry } from "../shell/page-list";
import { Enrol } from "./enrol";
import { SignIn } from "./sign-in";

/** The ways in, open to everybody. */
export const pages: readonly PageEntry[] = [
  { path: "/signin", view: SignIn },
  { path: "/enrol", view: Enrol },
];
