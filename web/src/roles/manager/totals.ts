import type { Load } from "../../api/types";
import { isoOf, parseDay } from "../../time/day";

/** A DayTotal is a day with what the sweep raised and what people opened, over all branches. */
export interface DayTotal {
  on: string;
  raised: number;
  byPeople: number;
}

/**
 * dayTotals adds the branches of each day up and fills in the days on which
 * nothing came up, so that quiet days can be seen. What the sweep reopened
 * counts as raised and not as opened, so people's share is never below nought.
 */
export function dayTotals(load: Pick<Load, "days" | "from" | "to">): DayTotal[] {
  const by = new Map<string, DayTotal>();
  const [from, to] = [parseDay(load.from), parseDay(load.to)];
  if (from !== null && to !== null) {
    for (let day = from; day <= to; day++) by.set(isoOf(day), { on: isoOf(day), raised: 0, byPeople: 0 });
  }
  for (const { on, opened, raised } of load.days) {
    const day = by.get(on) ?? { on, raised: 0, byPeople: 0 };
    by.set(on, {
      on,
      raised: day.raised + raised,
      byPeople: day.byPeople + Math.max(0, opened - raised),
    });
  }
  return [...by.values()].sort((a, b) => a.on.localeCompare(b.on));
}
