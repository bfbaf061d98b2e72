import { isoOf, parseDay } from "../../time/day";
import type { TodayFarm, TodayUnit } from "./compose";

/**
 * inHand leaves of what was shipped ahead what is to be done on a day. So the
 * phone is right without a network: a milestone whose window has opened, a
 * list that has come in hand, work that comes again.
 */
export function inHand<F extends Pick<TodayFarm, "units">>(farm: F, on: string): F {
  return {
    ...farm,
    units: farm.units.map((u) => unitOn(u, on)),
  };
}

/** toLearn are the modules that are not held on a day. */
export function toLearn(farm: Pick<TodayFarm, "modules">, on: string): TodayFarm["modules"] {
  return farm.modules.filter((m) => !m.lapsed_on || m.lapsed_on < on);
}

function unitOn(unit: TodayUnit, on: string): TodayUnit {
  const doneOn = (key: string | undefined) => unit.strip?.ticks.find((t) => t.key === key && isOver(t.state));
  return {
    ...unit,
    milestones: unit.milestones.filter((m) => {
      const waits = (m.after ?? []).some((key) => !doneOn(key));
      return !waits && (!m.from || m.from <= on);
    }),
    checklists: unit.checklists.filter((list) => {
      const done = doneOn(list.milestone);
      const until = list.until ?? (done?.done_on ? plus(done.done_on, listAfterDays) : "");
      return (!list.from || list.from <= on) && (until === "" || until >= on);
    }),
    work: unit.work.flatMap((w) => {
      if (w.until && doneOn(w.until)) return [];
      if (!w.after) return w.due <= on ? [w] : [];
      const begun = doneOn(w.after);
      if (!begun) return [];
      const due = begun.done_on ? plus(begun.done_on, w.first) : w.due;
      return due <= on ? [{ ...w, due }] : [];
    }),
  };
}

/** As long as the server keeps a list in hand after its milestone. */
const listAfterDays = 14;

export function isOver(state: string): boolean {
  return state === "done" || state === "implied";
}

/** plus is a civil date so many days later. */
export function plus(on: string, days: number): string {
  return isoOf((parseDay(on) ?? 0) + days);
}
