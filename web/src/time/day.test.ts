// @vitest-environment node
import { expect, it } from "vitest";
import { dayOf, firstOfMonth, isoOf, parseDay, partsOf } from "./day";

it.each([
  ["1970-01-01", 0],
  ["2000-02-29", 11_016],
  ["2026-03-12", 20_524], // date -d 2026-03-12 +%s / 86400
])("%s is day %i and comes back", (text, day) => {
  expect(parseDay(text)).toBe(day);
  expect(isoOf(day)).toBe(text);
});

it.each(["", null, undefined, "2026-02-30", "12/03/2026", "2026-3-12", "2026-13-01"])(
  "%s is no date",
  (text) => {
    expect(parseDay(text)).toBeNull();
  },
);

it("takes a day apart", () => {
  expect(partsOf(20_524)).toEqual({ year: 2026, month: 3, day: 12 });
});

it("finds the first of a month across the year's end", () => {
  expect(isoOf(firstOfMonth(2026, 13))).toBe("2027-01-01");
});

it("gives the date on the wall of a zone", () => {
  const lateEvening = new Date("2026-03-12T23:30:00Z");
  expect(isoOf(dayOf(lateEvening, "Africa/Douala"))).toBe("2026-03-13");
  expect(isoOf(dayOf(lateEvening, "UTC"))).toBe("2026-03-12");
});
