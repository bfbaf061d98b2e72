// @vitest-environment node
import { expect, it } from "vitest";
import { above, type Impact, type TimeToLoss, urgencyOf } from "./urgency";

// The table of urgency = impact x time to loss (design: product.md).
it.each<[Impact, TimeToLoss, string]>([
  ["high", "hours", "animals-at-risk"],
  ["high", "week", "animals-at-risk"],
  ["high", "longer", "losing-time"],
  ["middle", "hours", "animals-at-risk"],
  ["middle", "week", "losing-time"],
  ["middle", "longer", "losing-time"],
  ["low", "hours", "losing-time"],
  ["low", "week", "routine"],
  ["low", "longer", "no-hurry"],
])("%s impact lost in %s is %s", (impact, timeToLoss, urgency) => {
  expect(urgencyOf({ impact, timeToLoss, danger: false })).toBe(urgency);
});

it("puts a person in danger above the table", () => {
  expect(urgencyOf({ impact: "low", timeToLoss: "longer", danger: true })).toBe("person-in-danger");
});

it("orders urgencies", () => {
  expect(above("animals-at-risk", "losing-time")).toBe(true);
  expect(above("routine", "routine")).toBe(false);
  expect(above("no-hurry", "person-in-danger")).toBe(false);
});
