import type { PageEntry } from "../shell/page-list";
import { Check } from "./check";
import { TypeCode } from "./type-code";

/** Checking a certificate, open to everybody: the address with a code stands on the paper. */
export const pages: readonly PageEntry[] = [
  { path: "/certificates", view: TypeCode },
  { path: "/certificates/:code", view: Check },
];
