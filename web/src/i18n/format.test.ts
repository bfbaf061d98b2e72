// @vitest-environment node
import { expect, it } from "vitest";
import { formatsOf } from "./format";

const en = formatsOf("en");
const fr = formatsOf("fr");
const spaced = (text: string) => text.replace(/[\u00a0\u202f]/g, " ");

it("writes dates the same way everywhere", () => {
  expect(spaced(en.date("2026-03-12"))).toBe("12 Mar 2026");
  expect(spaced(fr.date("2026-03-12"))).toBe("12 mars 2026");
  expect(spaced(fr.date("2026-08-01"))).toBe("1er août 2026");
  expect(en.date("")).toBe("");
  expect(en.date("no date")).toBe("");
});

it("has a decimal comma in French only", () => {
  expect(en.number(1234.5, 1)).toBe("1,234.5");
  expect(spaced(fr.number(1234.5, 1))).toBe("1 234,5");
  expect(spaced(fr.measure(12.25, "g", 1))).toBe("12,3 g");
  expect(spaced(en.percent(7.5, 1))).toBe("7.5 %");
});

// The French forms are those of CLDR: 0, 1 and 1.5 are "one", a round million is "many".
it.each([
  [0, "0 jour"],
  [1, "1 jour"],
  [2, "2 jours"],
  [1_000_000, "1 000 000 de jours"],
])("counts %i in French as %s", (n, text) => {
  expect(spaced(fr.days(n))).toBe(text);
});

it("counts in English", () => {
  expect([0, 1, 2].map((n) => spaced(en.days(n)))).toEqual(["0 days", "1 day", "2 days"]);
});

it("says how long ago", () => {
  expect(spaced(en.ago(10, 15))).toBe("5 days ago");
  expect(spaced(en.ago(16, 15))).toBe("in 1 day");
  expect(fr.ago(15, 15)).toBe("aujourd’hui");
  expect(spaced(fr.ago(10, 15))).toBe("il y a 5 jours");
});

it("reads the clock on the wall of a zone", () => {
  expect(en.time("2026-03-12T09:40:00Z", "Africa/Douala")).toBe("10:40");
  expect(spaced(fr.dateTime("2026-03-12T23:40:00Z", "Africa/Douala"))).toBe("13 mars 2026, 00:40");
});

it("joins a list", () => {
  expect(en.list(["a"])).toBe("a");
  expect(fr.list(["a", "b", "c"])).toBe("a, b et c");
});
