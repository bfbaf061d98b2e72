import { standing } from "../../daybook/standing";
import type { Entry } from "../../offline/entry";
import { isoOf, parseDay } from "../../time/day";
import type { TodayFarm, TodayItem, TodayMark, TodayUnit } from "./compose";
import type { TodayModule, TodayReport } from "./data";
import { type Answer, type FarmEntry, farmEntryOf } from "./entry";
import { plus, toLearn } from "./in-hand";
import { beats, madeOf, outdates } from "./merge";

/** A View is a farm as its caretaker knows it: what the server said, and what the phone has said since. */
export interface View
  extends Omit<TodayFarm, "on" | "written_on" | "reports" | "days" | "modules" | "more_modules"> {
  /** The day that it is now. */
  on: string;
  written_on: string[];
  reports: Report[];
  days: Day[];
  /** Tasks for which this phone said today that they could not be done, and why. */
  couldNot: Record<string, string>;
  /** How many things this phone has told of today. */
  doneToday: number;
  modules: Learning[];
  more_modules: Learning[];
}

/** A Learning is a module with the rounds of questions that the server does not know of yet. */
export interface Learning extends TodayModule {
  rounds?: number;
}

/** A Day is an entry of the daybook that stands. */
export interface Day {
  id: string;
  on: string;
  unit_id?: string | undefined;
  replaces?: string | undefined;
  data: Record<string, unknown>;
}

/** A Report without a number has not reached the firm. */
export interface Report extends TodayReport {
  entry?: Entry | undefined;
}

const remembered = 7;

/**
 * overlay puts what waits on the phone, or went after the answer was read,
 * over the answer: a screen shows at once what was pressed. What the server
 * refused is left out; its own list shows that. `readAt` and the times of
 * sending are both of this phone's clock, right or wrong.
 */
export function overlay(farm: TodayFarm, readAt: string, on: string, outbox: readonly Entry[]): View {
  const since = outbox.filter((e) => e.state === "kept" || (e.state === "sent" && (e.sentAt ?? "") > readAt));
  const here = outbox.filter((e) => e.state !== "needs-you" && farmEntryOf(e)?.farm_id === farm.id);
  let view: View = {
    ...farm,
    on,
    written_on: farm.written_on as string[],
    reports: farm.reports,
    days: farm.days as Day[],
    couldNot: couldNotToday(here, on),
    doneToday: here.filter((e) => isWork(farmEntryOf(e) as FarmEntry, on)).length,
  };
  for (const kept of since) {
    const entry = farmEntryOf(kept);
    if (entry?.farm_id === farm.id) view = changed(view, entry, kept);
  }
  const told = { ...view, days: standing(view.days), missing_days: missing(view, farm.on) };
  return toLearn(told, on);
}

const workKinds = new Set([
  "day",
  "could-not",
  "work",
  "request",
  "weights",
  "cover",
  "milestone",
  "module-read",
  "answers",
]);

function isWork(entry: FarmEntry, on: string): boolean {
  return entry.on === on && workKinds.has(entry.kind);
}

function couldNotToday(here: readonly Entry[], on: string): Record<string, string> {
  const out: Record<string, string> = {};
  for (const kept of here) {
    const entry = farmEntryOf(kept);
    if (entry?.kind !== "could-not" || entry.on !== on) continue;
    const { task, reason } = (entry as FarmEntry<"could-not">).data;
    if (task) out[task] = reason;
  }
  return out;
}

function changed(view: View, entry: FarmEntry, kept: Entry): View {
  switch (entry.kind) {
    case "day":
      return { ...view, written_on: [...view.written_on, entry.on], days: [...view.days, dayOf(entry)] };
    case "request":
      return answeredRequest(view, (entry as FarmEntry<"request">).data.request);
    case "could-not": {
      const { task = "" } = (entry as FarmEntry<"could-not">).data;
      if (task.startsWith(requestTask)) return answeredRequest(view, task.slice(requestTask.length));
      if (task) return view;
      return { ...view, written_on: [...view.written_on, entry.on] };
    }
    case "work": {
      const { data } = entry as FarmEntry<"work">;
      return inCycle(view, entry, (unit) => again(unit, entry.on, (w) => w.key === data.work));
    }
    case "cover":
      return inCycle(view, entry, (unit) => again(unit, entry.on, (w) => w.does === "cover"));
    case "weights":
      return inCycle(view, entry, (unit) => again(unit, entry.on, (w) => w.does === "weigh"));
    case "item":
      return inCycle(view, entry, (unit) => marked(unit, entry as FarmEntry<"item">));
    case "milestone":
      return inCycle(view, entry, (unit) => done(unit, entry as FarmEntry<"milestone">));
    case "module-read":
      return learning(view, entry as FarmEntry<"module-read">, (m) => ({ ...m, read_on: entry.on }));
    case "answers":
      return learning(view, entry as FarmEntry<"answers">, (m) => answered(m, entry as FarmEntry<"answers">));
    case "trouble":
      return { ...view, reports: [reportOf(entry as FarmEntry<"trouble">, kept), ...view.reports] };
    case "call-me":
      return {
        ...view,
        promises: [{ id: entry.id, kind: "call-back", due_on: "", mine: true }, ...view.promises],
      };
    default:
      return view;
  }
}

/** How the name of a task begins that is something the firm asked for. */
export const requestTask = "request:";

// Either answer ends it: what could not be done, a person of the firm looks at next.
function answeredRequest(view: View, id: string): View {
  return { ...view, requests: view.requests.filter((r) => r.id !== id) };
}

function dayOf({ id, on, unit_id, replaces, data }: FarmEntry): Day {
  return { id, on, unit_id, replaces, data: data as Day["data"] };
}

// Work that was done comes again after its days; an earlier day does not take a later one back.
function again(unit: TodayUnit, on: string, is: (work: TodayUnit["work"][number]) => boolean): TodayUnit {
  return {
    ...unit,
    work: unit.work.map((w) => (is(w) && plus(on, w.every) > w.due ? { ...w, due: plus(on, w.every) } : w)),
  };
}

function learning(
  view: View,
  { data }: FarmEntry<"module-read" | "answers">,
  change: (module: Learning) => Learning,
): View {
  const each = (m: Learning) => (m.key === data.module && m.enterprise === data.enterprise ? change(m) : m);
  return { ...view, modules: view.modules.map(each), more_modules: view.more_modules.map(each) };
}

// A round that failed leaves nothing passed before it undone.
function answered({ failed_on, ...m }: Learning, { on, data }: FarmEntry<"answers">): Learning {
  const rounds = (m.rounds ?? 0) + 1;
  return data.told ? { ...m, rounds, answered_on: on } : { ...m, rounds, failed_on: on };
}

function inCycle(view: View, entry: FarmEntry, change: (unit: TodayUnit) => TodayUnit): View {
  return { ...view, units: view.units.map((u) => (u.cycle_id === entry.cycle_id ? change(u) : u)) };
}

function marked(unit: TodayUnit, entry: FarmEntry<"item">): TodayUnit {
  const { on, data } = entry;
  const made = madeOf(entry);
  const mark = (item: TodayItem): TodayMark => {
    if (item.mark && !beats({ id: entry.id, on, made }, { id: "", made: "", ...item.mark })) return item.mark;
    return {
      answer: data.answer ?? answerOf(item, data.value),
      ...(data.value === undefined ? {} : { value: data.value }),
      grade: "word",
      on,
      made,
    };
  };
  const checklists = unit.checklists.map((list) => ({
    ...list,
    items: list.items.map((item) => (item.key === data.item ? { ...item, mark: mark(item) } : item)),
  }));
  return { ...unit, checklists };
}

/** answerOf is yes where a value lies within what the item asks for, ends included, as the server judges it. */
export function answerOf(item: TodayItem, value: number | undefined): Answer {
  const { low, high } = item.measured ?? {};
  const holds =
    value !== undefined && (low === undefined || value >= low) && (high === undefined || value <= high);
  return holds ? "yes" : "no";
}

function done(unit: TodayUnit, entry: FarmEntry<"milestone">): TodayUnit {
  const { on, data } = entry;
  const word = { id: entry.id, on, made: madeOf(entry) };
  const spoken = unit.milestones.find((m) => m.key === data.milestone)?.made;
  if (spoken && !outdates(word, { id: "", on, made: spoken })) return unit;
  const milestones = unit.milestones.filter((m) => m.key !== data.milestone);
  const ticks = unit.strip?.ticks.map((t) =>
    t.key === data.milestone ? { key: t.key, name: t.name, state: "done", done_on: on } : t,
  );
  return { ...unit, milestones, ...(unit.strip && ticks ? { strip: { ...unit.strip, ticks } } : {}) };
}

function reportOf({ id, data }: FarmEntry<"trouble">, kept: Entry): Report {
  return {
    id,
    number: "",
    text: kept.what,
    ...(data.sign ? { sign: data.sign } : {}),
    state: "reported",
    opened_at: kept.at,
    messages: [],
    entry: kept,
  };
}

// Days without a daybook: those the server counted, and those since, where
// animals live; today is not over.
function missing(view: View, asOf: string): string[] {
  const [now, then] = [parseDay(view.on) ?? 0, parseDay(asOf) ?? 0];
  const days: string[] = [];
  for (let day = now - remembered; day < now; day++) {
    const text = isoOf(day);
    const open = day >= then ? view.stocked : (view.missing_days as string[]).includes(text);
    if (open && !view.written_on.includes(text)) days.push(text);
  }
  return days;
}
