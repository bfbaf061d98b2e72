import { type Day, firstOfMonth, parseDay, partsOf } from "../time/day";
import { type Dated, dated, lastDoneOf, nextOf, type Span, type Strip } from "./data";

/** Stretch is a part of the line in pixels. */
export interface Stretch {
  x1: number;
  x2: number;
}

/** A Mark is one milestone placed on the strip; y-positions follow from lane and row. */
export interface Mark {
  key: string;
  name: string;
  kind: "done" | "forecast" | "unknown";
  /** Where its tick stands; null when no date is known. */
  x: number | null;
  band: Stretch | null;
  whisker: Stretch | null;
  /** Which lane under the line its band lies in, from 0. */
  lane: number;
  /** Where its name is written; null where there was no room. */
  label: { x: number; row: number; anchor: "start" | "middle" | "end" } | null;
}

/** A MonthMark is the start of a month on the scale. */
export interface MonthMark {
  x: number;
  month: number;
  year: number;
}

/** Geometry is everything the drawing needs, in pixels from the left. */
export interface Geometry {
  line: Stretch;
  today: number | null;
  marks: Mark[];
  months: MonthMark[];
  lanes: number;
  rows: number;
}

/** Room is the space there is to draw in. */
export interface Room {
  width: number;
  /** Width of a letter in pixels, on average: 0 writes no names. */
  letter: number;
  /** Most rows of names. */
  rows: number;
  /** A common time axis for strips that stand under one another. */
  axis?: Span;
}

const margin = 6;

/** layOut places a strip in the room given. It is pure: the same strip in the same room is the same drawing. */
export function layOut(strip: Strip, room: Room): Geometry {
  const milestones = strip.milestones.map(dated);
  const today = parseDay(strip.today);
  const axis = room.axis ?? axisOf(parseDay(strip.start), today, milestones);
  const x = scale(axis, room.width);
  const marks = milestones.map((m) => place(m, x));
  const lanes = assignLanes(marks);
  const rows = writeNames(marks, important(strip), room);
  return {
    line: { x1: x(axis.from), x2: x(axis.to) },
    today: today === null ? null : x(today),
    marks,
    months: monthsOn(axis, x),
    lanes,
    rows,
  };
}

function axisOf(start: Day | null, today: Day | null, milestones: readonly Dated[]): Span {
  const days = milestones.flatMap((m) => [m.at, m.band?.from, m.band?.to, m.whisker?.from, m.whisker?.to]);
  const known = [...days, start, today].filter((d): d is Day => d !== null && d !== undefined);
  if (known.length === 0) return { from: 0, to: 1 };
  const from = Math.min(...known);
  return { from, to: Math.max(...known, from + 1) };
}

function scale(axis: Span, width: number): (day: Day) => number {
  const inner = Math.max(width - 2 * margin, 1);
  return (day) => {
    const share = (day - axis.from) / (axis.to - axis.from);
    return margin + Math.min(Math.max(share, 0), 1) * inner;
  };
}

function place(m: Dated, x: (day: Day) => number): Mark {
  const stretch = (s: Span | null) => s && { x1: x(s.from), x2: x(s.to) };
  return {
    key: m.key,
    name: m.name,
    kind: m.at === null ? "unknown" : m.state === "done" ? "done" : "forecast",
    x: m.at === null ? null : x(m.at),
    band: stretch(m.band),
    whisker: stretch(m.whisker),
    lane: 0,
    label: null,
  };
}

// A mark goes into the first lane where its band and whisker touch nothing
// that lies there already.
function assignLanes(marks: Mark[]): number {
  const ends: number[] = [];
  const gap = 3;
  for (const mark of marks) {
    const parts = [mark.band, mark.whisker].filter((s): s is Stretch => s !== null);
    const from = Math.min(...parts.map((s) => s.x1), mark.x ?? Number.POSITIVE_INFINITY);
    const to = Math.max(...parts.map((s) => s.x2), mark.x ?? Number.NEGATIVE_INFINITY);
    if (from > to) continue;
    const free = ends.findIndex((end) => end + gap <= from);
    mark.lane = free >= 0 ? free : ends.length;
    ends[mark.lane] = to;
  }
  return Math.max(ends.length, 1);
}

function important(strip: Strip): string[] {
  return [strip.harvest, nextOf(strip)?.key, lastDoneOf(strip)?.key].filter((k): k is string => !!k);
}

// Names are written most important first; a name that fits in no row is left
// out, for the list of milestones beside the strip has it.
function writeNames(marks: Mark[], first: readonly string[], room: Room): number {
  if (room.letter === 0) return 0;
  const rank = (mark: Mark) => (first.includes(mark.key) ? first.indexOf(mark.key) : first.length);
  const taken: Stretch[][] = Array.from({ length: room.rows }, () => []);
  let used = 0;
  for (const mark of [...marks].sort((a, b) => rank(a) - rank(b))) {
    if (mark.x === null) continue;
    const label = anchored(mark.x, mark.name.length * room.letter, room.width);
    const row = taken.findIndex((row) => row.every((t) => label.x2 + 8 < t.x1 || t.x2 + 8 < label.x1));
    if (row < 0) continue;
    taken[row]?.push(label);
    mark.label = { x: mark.x, row, anchor: label.anchor };
    used = Math.max(used, row + 1);
  }
  return used;
}

function anchored(x: number, long: number, width: number): Stretch & { anchor: "start" | "middle" | "end" } {
  if (x - long / 2 < 0) return { anchor: "start", x1: x, x2: x + long };
  if (x + long / 2 > width) return { anchor: "end", x1: x - long, x2: x };
  return { anchor: "middle", x1: x - long / 2, x2: x + long / 2 };
}

function monthsOn(axis: Span, x: (day: Day) => number): MonthMark[] {
  const { year, month } = partsOf(axis.from);
  const marks: MonthMark[] = [];
  for (let at = month + 1; ; at++) {
    const day = firstOfMonth(year, at);
    if (day > axis.to || marks.length >= 120) return marks;
    const on = partsOf(day);
    marks.push({ x: x(day), month: on.month, year: on.year });
  }
}
