import type { CycleRow } from "../../api/types";
import type { Span } from "../../strip/data";
import { parseDay } from "../../time/day";

/** axisOf is one time line for the strips of a list, so that they can be compared; undefined where none has dates. */
export function axisOf(cycles: readonly CycleRow[]): Span | undefined {
  const days = cycles.flatMap(({ outlook }) =>
    outlook ? [outlook.started_on, outlook.on, outlook.target, outlook.harvest.p90].map(parseDay) : [],
  );
  const known = days.filter((day): day is number => day !== null);
  if (known.length === 0) return undefined;
  const from = Math.min(...known);
  return { from, to: Math.max(...known, from + 1) };
}
