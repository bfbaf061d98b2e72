import type { PageEntry } from "../../shell/page-list";
import { Branches } from "./branches";
import { People } from "./people";
import { Register } from "./register";
import { officeWords } from "./words";
import "../../farm/notebook.css";
import "./office.css";

/** The pages of the office; the first is its home. */
export const pages: readonly PageEntry[] = [
  { path: "/office", view: Register, nav: () => officeWords().nav.register },
  { path: "/office/people", view: People, nav: () => officeWords().nav.people },
  { path: "/office/branches", view: Branches, nav: () => officeWords().nav.branches },
];
