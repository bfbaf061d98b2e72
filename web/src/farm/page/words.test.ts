import { beforeEach, expect, it } from "vitest";
import { Problem } from "../../api/problem";
import { language } from "../../i18n/language";
import { smallFarm, smallPack } from "../../testing/farm";
import { farmWords } from "../words";
import { defectsUntil, linesApart, linesOf } from "./build-lines";
import { happenedOf } from "./event-words";
import { itemData } from "./mark-item";
import { rangeWords } from "./measured";
import { heldModules } from "./modules";
import { missingIn } from "./refused";
import { pageWords } from "./words";

beforeEach(async () => {
  language.value = "en";
  await Promise.all([farmWords.load(), pageWords.load()]);
  language.value = "fr";
  await Promise.all([farmWords.load(), pageWords.load()]);
  language.value = "en";
});

const plain = (text: string) => text.replace(/[\u00a0\u202f]/g, " ");
const known: Record<string, string> = {
  planted: "Planted",
  "moving-safely": "Moving safely",
  "walk-the-wall": "Walk along the wall",
};
const names = (_: string, key: string) => known[key];
const fields = smallPack.daybook.groups.flatMap((g) => g.fields);
const around = {
  names,
  field: (key: string) => fields.find((f) => f.key === key),
  people: smallFarm.people,
  snags: smallFarm.snags,
};

it.each([
  ["milestone", { milestone: "planted", grade: "word" }, "Done: Planted", "word of the caretaker"],
  ["milestone", { milestone: "planted", anyway: true }, "Done without its go-ahead: Planted", ""],
  ["not-done", { milestone: "planted", note: "wrong farm" }, "Taken back: Planted", "wrong farm"],
  ["item", { item: "door-closes", answer: "yes" }, "door closes: yes", ""],
  ["item", { item: "walls-tight", value: 8.5 }, "walls tight: 8.5", ""],
  ["cover", { percent: 42 }, "Plant cover 42 %", ""],
  ["weights", { weights_g: [30, 31] }, "2 animals weighed, mean 30.5 g", ""],
  ["weights", { n: 12, mean_g: 33 }, "12 animals weighed, mean 33 g", ""],
  ["day", { all_well: true }, "All well: no deaths", ""],
  ["day", { deaths: 1, eggs: 3, feed_kg: 1.5 }, "Daybook", "1 death, 3 eggs, feed 1.5 kg"],
  [
    "day",
    { temperature_c: 28.5, watering: "rain", treatment: "soap-water", treatment_until: "2026-04-01" },
    "Daybook",
    "Temperature: 28.5 °C, Watered: Rain did it, What was used: soap-water, Nothing is sold until: 1 Apr 2026",
  ],
  ["day", { ph_7: 7 }, "Daybook", "ph 7: 7"],
  [
    "day",
    { deaths: 2, source: "paper", written_by: "p2" },
    "Daybook",
    "2 deaths, from the paper page of Eposi Njoh",
  ],
  ["work", { work: "walk-the-wall" }, "Work done: Walk along the wall", ""],
  [
    "could-not",
    { reason: "ill", task: "work:c1:walk-the-wall" },
    "Could not be done (ill): Walk along the wall",
    "",
  ],
  ["could-not", { reason: "rain" }, "The day's work could not be done: rain", ""],
  ["trouble", { note: "The pump has stopped" }, "Trouble: The pump has stopped", "The pump has stopped"],
  [
    "module",
    { module: "moving-safely", person_id: "p2" },
    "Practical check of Eposi Njoh: Moving safely",
    "",
  ],
  ["module-read", { module: "moving-safely" }, "Someone of the farm went through: Moving safely", ""],
  ["stocking", { count: 400, species: "archachatina-marginata" }, "Stocked: 400 archachatina marginata", ""],
  ["snag-mended", { snag_id: "s1" }, "Mended: The gutter drips", ""],
  ["pause", { until: "2026-04-01", reason: "rain" }, "Work paused until 1 Apr 2026", "rain"],
  ["visit", { findings: "All is dry" }, "Visit", "All is dry"],
  ["moon-landing", {}, "Entry: moon-landing", ""],
])("tells a %s with %j", (kind, data, what, more) => {
  const happened = happenedOf({ kind, data }, around);
  expect(plain(happened.what)).toBe(what);
  expect(plain(happened.more.join(", "))).toBe(more);
});

it("names the fields of a pack in the language of the screen", () => {
  language.value = "fr";
  const data = { temperature_c: 28.5, watering: "rain", treatment_until: "2026-04-01" };
  expect(plain(happenedOf({ kind: "day", data }, around).more.join(", "))).toBe(
    "Température : 28,5 °C, Arrosage : La pluie l'a fait, Rien n'est vendu avant le : 1er avr. 2026",
  );
});

it("tells entries whose data is not what it should be without nonsense", () => {
  for (const kind of [
    "milestone",
    "item",
    "cover",
    "weights",
    "day",
    "stocking",
    "pause",
    "module",
    "trouble",
  ]) {
    for (const data of [undefined, null, 3, { percent: "x", count: null, weights_g: ["a"] }]) {
      for (const spoken of ["en", "fr"] as const) {
        language.value = spoken;
        const { what, more } = happenedOf({ kind, data }, around);
        expect(`${what} ${more}`).not.toMatch(/undefined|NaN|null|\[object/);
      }
    }
  }
});

it("writes lengths in both measures and power in kilowatts", () => {
  const build = smallFarm.units[0]?.build;
  if (!build) throw new Error("the fixture has a unit");
  const text = (b: typeof build, key: string) =>
    plain(linesOf(b, smallPack).find((l) => l.key === key)?.text ?? "");
  // 1 ft = 0.3048 m (international yard and pound agreement, 1959).
  expect(text(build, "length")).toBe("6.1 m (20 ft)");
  expect(text({ ...build, length: { value: 6.096, measure: "m" } }, "length")).toBe("6.1 m (20 ft)");
  expect(text(build, "area")).toBe("18.6 m²");
  // 1 hp = 0.7457 kW, 1 ch = 0.7355 kW.
  expect(text({ ...build, pump: { value: 2, measure: "hp" } }, "pump")).toBe("2 hp (1.49 kW)");
  expect(text({ ...build, pump: { value: 2, measure: "ch" } }, "pump")).toBe("2 ch (1.47 kW)");
  expect(text({ ...build, pump: { value: 1.1, measure: "kW" } }, "pump")).toBe("1.1 kW");
  expect(text({ ...build, water: "the neighbour's tap" }, "water")).toBe("the neighbour's tap");
});

it.each([
  ["2026-01-02", 6, "2026-07-01"],
  ["2026-08-31", 6, "2027-02-27"],
  ["2026-01-31", 12, "2027-01-30"],
  ["2026-01-01", 6, "2026-06-30"],
  ["", 6, ""],
  ["2026-01-02", 0, ""],
])("ends the defects period of a house handed over %s after %d months on %s", (on, months, until) => {
  expect(defectsUntil({ handed_over_on: on, defects_months: months })).toBe(until);
});

it("finds the lines in which two build sheets differ", () => {
  const build = smallFarm.units[0]?.build;
  if (!build) throw new Error("the fixture has a unit");
  const theirs = { ...build, capacity: 650, drain: "yes" };
  expect(linesApart(build, theirs, smallPack).map((l) => [l.key, l.mine, l.theirs])).toEqual([
    ["capacity", "600", "650"],
    ["drain", "no", "yes"],
  ]);
  expect(linesApart(build, { ...build }, smallPack)).toEqual([]);
});

it("sends a value for a measured item and an answer for any other", () => {
  const given = { answer: "yes" as const, value: 4, grade: "staff-saw" as const, note: " " };
  const measured = { key: "walls-tight", measured: { measure: "mm", grade: "T" } };
  expect(itemData({ key: "door" }, given)).toEqual({ item: "door", answer: "yes", grade: "staff-saw" });
  expect(itemData(measured, { ...given, answer: "" })).toEqual({
    item: "walls-tight",
    value: 4,
    grade: "staff-saw",
  });
  expect(itemData(measured, { ...given, answer: "not-needed" })).toEqual({
    item: "walls-tight",
    answer: "not-needed",
    grade: "staff-saw",
  });
});

it("says between what a value must lie", () => {
  const range = (low: number | undefined, high: number | undefined, measure: string) =>
    plain(
      rangeWords({
        measure,
        grade: "T",
        ...(low === undefined ? {} : { low }),
        ...(high === undefined ? {} : { high }),
      }),
    );
  expect(range(6.5, 7.5, "ph")).toBe("6.5 to pH 7.5");
  expect(range(20, undefined, "cm")).toBe("at least 20 cm");
  expect(range(undefined, 5, "mm")).toBe("at most 5 mm");
  expect(range(undefined, undefined, "m")).toBe("");
});

it("tells valid, lapsed and missing modules of a person on a day", () => {
  const passes = smallFarm.people[0]?.passes ?? [];
  const states = (on: string) =>
    heldModules(smallPack, "snail", passes, on).map((h) => `${h.module.key} ${h.state}`);
  expect(states("2026-02-01")).toEqual(["feeding missing", "moving-safely valid"]);
  expect(states("2026-02-02")).toEqual(["moving-safely lapsed", "feeding missing"]);
  expect(heldModules(undefined, "snail", passes, "2026-02-02")).toEqual([]);
});

it("reads what a refusal names, else what the page knew", () => {
  const goAhead = { key: "g", name: "G", missing: [{ code: "item-missing", thing: "door-closes" }] };
  const named = new Problem(409, "go-ahead-missing", "", [
    { path: "data.milestone", code: "module-missing", text: "<nil> moving-safely <nil>" },
  ]);
  expect(missingIn(named, goAhead)).toEqual([{ code: "module-missing", thing: "moving-safely" }]);
  expect(missingIn(new Problem(409, "go-ahead-missing", ""), goAhead)).toEqual(goAhead.missing);
  expect(missingIn(new Problem(409, "go-ahead-missing", ""), null)).toEqual([]);
});
