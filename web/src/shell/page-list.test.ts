// @vitest-environment node
import { expect, it } from "vitest";
import { match } from "./page-list";

it.each([
  ["/desk", "/desk/", {}],
  ["/farms/:id", "/farms/a%20b", { id: "a b" }],
  ["/farms/:id", "/farms/%", { id: "%" }],
  ["/farms/:id", "/farms", null],
  ["/farms/:id", "/farms/1/2", null],
  ["/desk/tickets/:id", "/desk/calls/1", null],
  ["/", "/", {}],
])("%s fits %s: %j", (pattern, path, params) => {
  expect(match(pattern, path)).toEqual(params);
});
