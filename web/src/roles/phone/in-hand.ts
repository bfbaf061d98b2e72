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

/** As many days before the end of its pass a module is to be learned again, as the server counts. */
const refreshDays = 30;

/** toLearn parts the modules into those to learn on a day, and those that hold for a while yet. */
export function toLearn<F extends Pick<TodayFarm, "modules" | "more_modules">>(farm: F, on: string): F {
  const due = (m: F["modules"][number]) => !m.until || m.until < plus(on, refreshDays);
  return {
    ...farm,
    modules: farm.modules.filter(due),
    more_modules: [...farm.modules.filter((m) => !due(m)), ...(farm.more_modules ?? [])],
  };
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
