import type { BuildSheet, Pack, UnitPage } from "../../api/types";
import { formats } from "../../i18n/format";
import { isoOf, parseDay, partsOf } from "../../time/day";
import { said } from "../packs";
import { pageWords } from "./words";

/** A Line of a build sheet: a stable name, what it is called, and what stands there in words. */
export interface Line {
  key: keyof BuildSheet | "area";
  label: string;
  text: string;
}

const metresPerFoot = 0.3048; // exact: international yard and pound agreement, 1959

const kiloWatts: Record<string, number> = { hp: 0.7457, ch: 0.7355, kW: 1 };

/**
 * linesOf puts a build sheet into lines. Lengths stand in both measures, the
 * pump's power as it was entered and in kW; words of the pack by their names,
 * others as they were typed.
 */
export function linesOf(build: BuildSheet, pack: Pack | undefined): Line[] {
  const words = pageWords().build;
  const { number, measure, date } = formats();
  const answer = (value: string) => (value === "yes" ? words.yes : value === "no" ? words.no : "");
  const word = (column: string, value: string) => wordOf(pack, column, value);
  const m2 = metres(build.length) * metres(build.width);
  return [
    { key: "length", label: words.length, text: both(build.length) },
    { key: "width", label: words.width, text: both(build.width) },
    { key: "area", label: words.area, text: m2 > 0 ? words.m2(m2) : "" },
    { key: "capacity", label: words.capacity, text: build.capacity ? number(build.capacity) : "" },
    { key: "standard", label: words.standard, text: build.standard },
    { key: "wall_base", label: words.wall_base, text: word("wall_base", build.wall_base) },
    { key: "cover", label: words.cover, text: word("cover", build.cover) },
    { key: "double_door", label: words.double_door, text: answer(build.double_door) },
    { key: "drain", label: words.drain, text: answer(build.drain) },
    { key: "lined", label: words.lined, text: answer(build.lined) },
    { key: "paths", label: words.paths, text: answer(build.paths) },
    { key: "feed_platforms", label: words.feed_platforms, text: answer(build.feed_platforms) },
    { key: "water", label: words.water, text: word("water", build.water) },
    {
      key: "tank_litres",
      label: words.tank_litres,
      text: build.tank_litres ? measure(build.tank_litres, "l", 1) : "",
    },
    { key: "pump", label: words.pump, text: pumpWords(build.pump) },
    { key: "handed_over_on", label: words.handed_over_on, text: date(build.handed_over_on) },
    { key: "defects_months", label: words.defects, text: defectsWords(build) },
  ];
}

function metres({ value, measure }: BuildSheet["length"]): number {
  return measure === "ft" ? value * metresPerFoot : value;
}

function both(length: BuildSheet["length"]): string {
  if (!length.value) return "";
  const m = metres(length);
  return pageWords().build.both(m, length.measure === "ft" ? length.value : m / metresPerFoot);
}

/** wordOf is the pack's name for a word of a build sheet, or the word as it was typed. */
export function wordOf(pack: Pack | undefined, column: string, value: string): string {
  return said(pack?.words[column]?.find((w) => w.key === value)?.name) || value;
}

function pumpWords({ value, measure }: BuildSheet["pump"]): string {
  if (!value) return "";
  const entered = formats().measure(value, measure, 2);
  return measure === "kW" ? entered : pageWords().build.pumpBoth(entered, value * (kiloWatts[measure] ?? 1));
}

function defectsWords(build: BuildSheet): string {
  const words = pageWords().build;
  const until = defectsUntil(build);
  return until
    ? words.defectsUntil(build.defects_months, until)
    : build.defects_months
      ? ""
      : words.noDefects;
}

/** defectsUntil is the last day of the defects period, "" where there is none. */
export function defectsUntil(build: Pick<BuildSheet, "defects_months" | "handed_over_on">): string {
  const handed = parseDay(build.handed_over_on);
  if (handed === null || !build.defects_months) return "";
  const { year, month, day } = partsOf(handed);
  const first = Date.UTC(year, month - 1 + build.defects_months, 1) / 86_400_000;
  const next = Date.UTC(year, month + build.defects_months, 1) / 86_400_000;
  const anniversary = first + Math.min(day, next - first) - 1;
  return isoOf(anniversary - 1);
}

/** linesApart are the lines in which two sheets differ, with both texts. */
export function linesApart(
  mine: BuildSheet,
  theirs: BuildSheet,
  pack: Pack | undefined,
): { key: string; label: string; mine: string; theirs: string }[] {
  const other = new Map(linesOf(theirs, pack).map((l) => [l.key, l.text]));
  return linesOf(mine, pack)
    .filter((l) => l.key !== "area" && other.get(l.key) !== l.text)
    .map((l) => ({ key: l.key, label: l.label, mine: l.text, theirs: other.get(l.key) ?? "" }));
}

/** bodyOf is what a change of a unit sends: the API takes the unit whole. */
export function bodyOf(unit: UnitPage, name: string, build: BuildSheet) {
  return { name, enterprise: unit.enterprise, species: unit.species, build };
}
