import { expect, it } from "vitest";
import { parseDay } from "../time/day";
import { monthsBetween, nameOfMonth } from "./months";

const day = (text: string) => parseDay(text) ?? 0;

it("counts the months that begin within the days, over the end of a year", () => {
  const all = monthsBetween(day("2026-11-20"), day("2027-02-01"));
  expect(all.map(({ year, month }) => [year, month])).toEqual([
    [2026, 12],
    [2027, 1],
    [2027, 2],
  ]);
});

it("lets the year take the place of February where months stand close", () => {
  const [january, february] = monthsBetween(day("2026-12-31"), day("2027-02-28"));
  expect(january && nameOfMonth(january, true)).toBe("2027");
  expect(february && nameOfMonth(february, true)).toBe("");
  expect(february && nameOfMonth(february, false)).not.toBe("");
});
