import type { Entry } from "../../offline/entry";
import { isoOf, parseDay } from "../../time/day";
import type { TodayFarm, TodayItem, TodayMark, TodayReport, TodayUnit } from "./data";
import { type Answer, type FarmEntry, farmEntryOf } from "./entry";

/** A View is a farm as its caretaker knows it: what the server said, and what the phone has said since. */
export interface View extends Omit<TodayFarm, "on" | "written_on" | "reports"> {
  /** The day that it is now. */
  on: string;
  written_on: string[];
  reports: Report[];
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
  let view: View = { ...farm, on, written_on: farm.written_on as string[], reports: farm.reports };
  for (const kept of since) {
    const entry = farmEntryOf(kept);
    if (entry?.farm_id === farm.id) view = changed(view, entry, kept);
  }
  return { ...view, missing_days: missing(view, farm.on) };
}

function changed(view: View, entry: FarmEntry, kept: Entry): View {
  switch (entry.kind) {
    case "day":
    case "could-not":
      return { ...view, written_on: [...view.written_on, entry.on] };
    case "item":
      return inCycle(view, entry, (unit) => marked(unit, entry as FarmEntry<"item">));
    case "milestone":
      return inCycle(view, entry, (unit) => done(unit, entry as FarmEntry<"milestone">));
    case "module-read": {
      const { data } = entry as FarmEntry<"module-read">;
      const modules = view.modules.map((m) =>
        m.key === data.module && m.enterprise === data.enterprise ? { ...m, read_on: entry.on } : m,
      );
      return { ...view, modules };
    }
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

function inCycle(view: View, entry: FarmEntry, change: (unit: TodayUnit) => TodayUnit): View {
  return { ...view, units: view.units.map((u) => (u.cycle_id === entry.cycle_id ? change(u) : u)) };
}

function marked(unit: TodayUnit, { on, data }: FarmEntry<"item">): TodayUnit {
  const mark = (item: TodayItem): TodayMark => ({
    answer: data.answer ?? answerOf(item, data.value),
    ...(data.value === undefined ? {} : { value: data.value }),
    grade: "word",
    on,
  });
  const checklists = unit.checklists?.map((list) => ({
    ...list,
    items: list.items.map((item) => (item.key === data.item ? { ...item, mark: mark(item) } : item)),
  }));
  return checklists ? { ...unit, checklists } : unit;
}

/** answerOf is yes where a value lies within what the item asks for, ends included, as the server judges it. */
export function answerOf(item: TodayItem, value: number | undefined): Answer {
  const { low, high } = item.measured ?? {};
  const holds =
    value !== undefined && (low === undefined || value >= low) && (high === undefined || value <= high);
  return holds ? "yes" : "no";
}

function done(unit: TodayUnit, { on, data }: FarmEntry<"milestone">): TodayUnit {
  const milestones = unit.milestones?.filter((m) => m.key !== data.milestone) ?? [];
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
