// @vitest-environment node
import { expect, it } from "vitest";
import { niceStep, scaleOf } from "./scale";

it.each([
  [0, 1],
  [0.7, 1],
  [1, 1],
  [1.2, 2],
  [22, 25],
  [26, 50],
  [80, 100],
  [0.03, 0.05],
])("rounds a step of %d up to %d", (rough, nice) => {
  expect(niceStep(rough)).toBeCloseTo(nice, 9);
});

it("ends on the tick that holds the largest value", () => {
  const scale = scaleOf(83, 4, 100, 0);
  expect(scale.ticks).toEqual([0, 25, 50, 75, 100]);
  expect(scale.at(0)).toBe(100);
  expect(scale.at(100)).toBe(0);
  expect(scale.at(50)).toBe(50);
});

it("has room even where everything is nothing", () => {
  const scale = scaleOf(0, 4, 100, 0);
  expect(scale.ticks.length).toBeGreaterThan(1);
  expect(scale.at(0)).toBe(100);
});
