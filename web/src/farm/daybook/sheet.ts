import type { components } from "../../api/api.gen";
import type { Pack, PackField } from "../../api/types";
import { judge, type Ruling, type Stock } from "../../daybook/judge";
import type { Language } from "../../i18n/language";
import { isoOf, parseDay } from "../../time/day";
import { parseNumber } from "../../ui/number";

type Schemas = components["schemas"];
export type DaybookPage = Schemas["DaybookPage"];
export type DaybookDay = Schemas["DaybookDay"];

/** A Line of the page: a field of the pack, or one of the two that every daybook has. */
export interface Line {
  key: string;
  kind: PackField["kind"] | "well" | "note";
  field?: PackField;
}

/** linesOf are the lines in the order of the printed page. */
export function linesOf(pack: Pick<Pack, "daybook">): Line[] {
  const fields = pack.daybook.groups.flatMap((g) => g.fields);
  return [
    { key: "all_well", kind: "well" },
    ...fields.map((field) => ({ key: field.key, kind: field.kind, field })),
    { key: "note", kind: "note" },
  ];
}

/** What stands in the cells of one day, as typed, by line; "" is empty. */
export type Typed = Readonly<Record<string, string>>;

/** A Column is one day of the page, under way. */
export interface Column {
  on: string;
  /** Of the entry that this day becomes: made before it is sent, so that it is kept once. */
  id: string;
  /** The entry that stands and that this one corrects. */
  before: string;
  /** What that entry says beyond the lines of the page; it goes along. */
  rest: Record<string, unknown>;
  /** What stood in the cells when they were last kept. */
  was: Typed;
  typed: Typed;
  /** Lines whose unlikely value was asked back and is meant. */
  sure: readonly string[];
  /** What the server did not take, by line; "" is about the day as a whole. */
  refused: Readonly<Record<string, string>>;
  kept: boolean;
}

/** columnsOf are the fourteen days with what stands of them. */
export function columnsOf(
  page: DaybookPage,
  lines: readonly Line[],
  newId: () => string,
  language: Language,
): Column[] {
  const first = parseDay(page.from) ?? 0;
  const last = parseDay(page.to) ?? first;
  return Array.from({ length: last - first + 1 }, (_, i) => {
    const on = isoOf(first + i);
    const before = page.days.filter((d) => d.on === on && !d.whole).pop();
    const data = (before?.data ?? {}) as Record<string, unknown>;
    const was = Object.fromEntries(lines.map((l) => [l.key, written(l, data[l.key], language)]));
    return {
      on,
      id: newId(),
      before: before?.id ?? "",
      rest: restOf(data, lines),
      was,
      typed: was,
      sure: Array.isArray(data.sure) ? data.sure.filter((s) => typeof s === "string") : [],
      refused: {},
      kept: false,
    };
  });
}

const notCarried = ["sure", "source", "written_by", "media"];

// Photos and voice notes stay with the entry that named them.
function restOf(data: Record<string, unknown>, lines: readonly Line[]): Record<string, unknown> {
  const known = new Set([...lines.map((l) => l.key), ...notCarried]);
  return Object.fromEntries(Object.entries(data).filter(([key]) => !known.has(key)));
}

// A value of an entry as somebody would have typed it.
function written(line: Line, value: unknown, language: Language): string {
  if (line.kind === "well") return value === true ? "1" : "";
  if (typeof value === "number") return language === "fr" ? String(value).replace(".", ",") : String(value);
  if (typeof value !== "string") return "";
  const at = line.field?.choices?.findIndex((c) => c.key === value) ?? -1;
  return at >= 0 ? String(at + 1) : value;
}

/** Why a cell cannot be kept, or is asked back. */
export type Wrong =
  | { code: "not-a-number" | "no-answer" | "no-day" | "not-both" }
  | { code: "impossible" | "unlikely"; ruling: Ruling };

/** A Cell is what was typed, read: a value, or what is wrong with it. Neither is an empty cell, which is no zero. */
export interface Cell {
  value?: number | string | true;
  wrong?: Wrong;
}

/** readCell reads what was typed into a line of a day, held to the bounds that the phone holds it to. */
export function readCell(line: Line, column: Column, stock: Stock, language: Language): Cell {
  const text = (column.typed[line.key] ?? "").trim();
  if (text === "") return {};
  switch (line.kind) {
    case "well":
      return wellCell(column, language);
    case "count":
    case "amount":
      return numberCell(line, text, column, stock, language);
    case "choice": {
      const chosen = line.field?.choices?.[Number(text) - 1];
      return chosen ? { value: chosen.key } : { wrong: { code: "no-answer" } };
    }
    case "date": {
      const day = dayTyped(text, column.on);
      return day ? { value: day } : { wrong: { code: "no-day" } };
    }
    default:
      return { value: text };
  }
}

function wellCell(column: Column, language: Language): Cell {
  const deaths = parseNumber(column.typed.deaths ?? "", language) ?? 0;
  return deaths > 0 ? { wrong: { code: "not-both" } } : { value: true };
}

function numberCell(line: Line, text: string, column: Column, stock: Stock, language: Language): Cell {
  const value = parseNumber(text, language);
  if (value === null) return { wrong: { code: "not-a-number" } };
  const ruling = judge(line.field?.bounds ?? {}, value, stock);
  if (ruling.verdict === "impossible") return { value, wrong: { code: "impossible", ruling } };
  if (ruling.verdict === "unlikely" && !column.sure.includes(line.key))
    return { value, wrong: { code: "unlikely", ruling } };
  return { value };
}

const dayForm = /^(\d{1,2})[/.\s-](\d{1,2})(?:[/.\s-](\d{2}|\d{4}))?$/;

/**
 * dayTyped reads a day as it stands on paper, day before month: 12/3, 12.3.26
 * or 2026-03-12. Without a year it is the next such day from `on`. "" is no day.
 */
export function dayTyped(text: string, on: string): string {
  if (parseDay(text) !== null) return text;
  const parts = dayForm.exec(text);
  const from = parseDay(on);
  if (!parts || from === null) return "";
  const [, day = "", month = "", year] = parts;
  const iso = (y: number) =>
    `${String(y).padStart(4, "0")}-${month.padStart(2, "0")}-${day.padStart(2, "0")}`;
  const start = Number(on.slice(0, 4));
  const tried = year ? [Number(year) + (year.length === 2 ? 2000 : 0)] : [start, start + 1];
  const found = tried.map(iso).find((d) => parseDay(d) !== null && (year || d >= on));
  return found ?? "";
}

/** changed says whether a day has anything to keep. */
export function changed(column: Column): boolean {
  const keys = new Set([...Object.keys(column.typed), ...Object.keys(column.was)]);
  return [...keys].some((k) => (column.typed[k] ?? "").trim() !== (column.was[k] ?? "").trim());
}

/** A cell that needs a second look. */
export interface Fault {
  line: Line;
  on: string;
  wrong: Wrong;
}

/** faultsOf are the cells of changed days that cannot be kept, or are asked back. */
export function faultsOf(
  columns: readonly Column[],
  lines: readonly Line[],
  stock: Stock,
  language: Language,
): Fault[] {
  return columns.filter(changed).flatMap((column) =>
    lines.flatMap((line) => {
      const { wrong } = readCell(line, column, stock, language);
      return wrong ? [{ line, on: column.on, wrong }] : [];
    }),
  );
}

/** dataOf is the daybook entry that a day becomes. */
export function dataOf(
  column: Column,
  lines: readonly Line[],
  stock: Stock,
  language: Language,
  writtenBy: string,
): Record<string, unknown> {
  const values = lines.flatMap((line) => {
    const { value } = readCell(line, column, stock, language);
    return value === undefined ? [] : [[line.key, value] as const];
  });
  const filled = Object.fromEntries(values);
  const sure = column.sure.filter((key) => key in filled);
  return {
    ...column.rest,
    ...filled,
    ...(sure.length > 0 ? { sure } : {}),
    source: "paper",
    written_by: writtenBy,
  };
}
