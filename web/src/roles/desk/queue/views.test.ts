// @vitest-environment node
import { expect, it } from "vitest";
import { queryOf, type View, viewOf } from "./views";

const now = new Date("2026-03-12T09:00:00Z");

it.each<[View, string, object]>([
  ["mine", "b1", { mine: true }],
  ["branch", "b1", { branch: "b1" }],
  ["branch", "", {}],
  ["nobody", "b1", { nobody: true, branch: "b1" }],
  ["waiting", "", { state: "waiting" }],
  ["today", "", { due_before: "2026-03-12T23:00:00.000Z" }],
  ["overdue", "", { overdue: true }],
])("%s of branch %j asks for %j", (view, branch, query) => {
  expect(queryOf(view, branch, now, "Africa/Douala")).toEqual({ limit: 200, ...query });
});

it("reads a view from an address", () => {
  expect(viewOf("overdue")).toBe("overdue");
  expect(viewOf("theirs")).toBe("mine");
  expect(viewOf(undefined)).toBe("mine");
});
