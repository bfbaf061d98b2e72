import { expect, it } from "vitest";
import { smallPack } from "../../testing/farm";
import { changed, columnsOf, type DaybookPage, dataOf, dayTyped, faultsOf, linesOf, readCell } from "./sheet";

const lines = linesOf(smallPack);
const stock = { put_in: 200, living: 190 };
const page: DaybookPage = {
  farm_id: "f1",
  farm: "Sandpit Corner",
  unit_id: "u1",
  unit: "House 1",
  enterprise: "snail",
  today: "2026-03-14",
  from: "2026-03-01",
  to: "2026-03-14",
  people: [],
  days: [
    {
      id: "old",
      on: "2026-03-02",
      data: { deaths: 1, feed_kg: 1.5, watering: "rain", eggs: 4, media: ["m"] },
    },
    { id: "whole", on: "2026-03-03", data: { deaths: 9 }, whole: true },
  ],
};

let n = 0;
const columns = () => columnsOf(page, lines, () => `id-${++n}`, "fr");
function column(typed: Record<string, string>, sure: string[] = []) {
  const found = columns()[0];
  if (!found) throw new Error("there are fourteen days");
  return { ...found, typed, sure };
}
const lineOf = (key: string) => {
  const found = lines.find((l) => l.key === key);
  if (!found) throw new Error(`no line ${key}`);
  return found;
};

it("has the lines of the pack between all is well and the note", () => {
  expect(lines.map((l) => l.key)).toEqual([
    "all_well",
    "deaths",
    "feed_kg",
    "watering",
    "temperature_c",
    "treatment",
    "treatment_until",
    "note",
  ]);
});

it("shows fourteen days with what stands of them, as it would be typed", () => {
  const all = columns();
  expect(all.map((c) => c.on)).toEqual(
    Array.from({ length: 14 }, (_, i) => `2026-03-${String(i + 1).padStart(2, "0")}`),
  );
  expect(new Set(all.map((c) => c.id)).size).toBe(14);
  expect(all[1]?.before).toBe("old");
  expect(all[1]?.typed).toMatchObject({ deaths: "1", feed_kg: "1,5", watering: "3", note: "" });
  expect(all[1]?.rest).toEqual({ eggs: 4 });
  expect(all[2]?.before, "the whole farm's entry stays as it is").toBe("");
  expect(all.some(changed)).toBe(false);
});

it("takes an empty cell for no number, never for zero", () => {
  const c = column({ deaths: "", feed_kg: " ", note: "Rain" });
  expect(changed(c)).toBe(true);
  expect(dataOf(c, lines, stock, "fr", "p2")).toEqual({ note: "Rain", source: "paper", written_by: "p2" });
});

it.each([
  ["deaths", "0", 0, undefined],
  ["deaths", "2,5", 2.5, "impossible"],
  ["deaths", "4001", 4001, "impossible"], // most_of_stock: 20 times 200
  ["deaths", "31", 31, "unlikely"], // ask_of_stock: 0.03 of 190
  ["deaths", "two", undefined, "not-a-number"],
  ["feed_kg", "1,5", 1.5, undefined],
  ["feed_kg", "51", 51, "unlikely"],
  ["watering", "2", "once", undefined],
  ["watering", "4", undefined, "no-answer"],
  ["watering", "once", undefined, "no-answer"],
  ["temperature_c", "300", 300, "impossible"],
  ["treatment", "soap", "soap", undefined],
  ["treatment_until", "12/3", "2026-03-12", undefined],
  ["treatment_until", "soon", undefined, "no-day"],
  ["all_well", "1", true, undefined],
] as const)("reads %s from %s", (key, text, value, wrong) => {
  const cell = readCell(lineOf(key), column({ [key]: text }), stock, "fr");
  expect(cell.value).toEqual(value);
  expect(cell.wrong?.code).toBe(wrong);
});

it("does not take all is well beside deaths", () => {
  const cell = readCell(lineOf("all_well"), column({ all_well: "1", deaths: "2" }), stock, "fr");
  expect(cell.wrong?.code).toBe("not-both");
});

it("asks an unlikely value back once, and says that it was meant", () => {
  const doubted = column({ deaths: "31" });
  expect(faultsOf([doubted], lines, stock, "fr").map((f) => [f.line.key, f.on, f.wrong.code])).toEqual([
    ["deaths", "2026-03-01", "unlikely"],
  ]);
  const meant = column({ deaths: "31" }, ["deaths", "feed_kg"]);
  expect(faultsOf([meant], lines, stock, "fr")).toEqual([]);
  expect(dataOf(meant, lines, stock, "fr", "p2")).toEqual({
    deaths: 31,
    sure: ["deaths"],
    source: "paper",
    written_by: "p2",
  });
});

it("looks at changed days only", () => {
  const all = columns().map((c) => ({ ...c, was: { deaths: "4001" }, typed: { deaths: "4001" } }));
  expect(faultsOf(all, lines, stock, "fr")).toEqual([]);
});

it.each([
  ["12/3", "2026-03-01", "2026-03-12"],
  ["12.3.26", "2026-03-01", "2026-03-12"],
  ["2026-03-12", "2026-03-01", "2026-03-12"],
  ["5/1", "2025-12-28", "2026-01-05"], // the next such day
  ["29/2", "2027-06-01", "2028-02-29"],
  ["31/2", "2026-03-01", ""],
  ["3/13", "2026-03-01", ""],
  ["soon", "2026-03-01", ""],
])("reads the day %s on a page of %s as %s", (text, on, want) => {
  expect(dayTyped(text, on)).toBe(want);
});
