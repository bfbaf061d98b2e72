import type { VisitNeed } from "../../api/types";

/**
 * everyDays is the interval between visits that the farm's stage asks for, as
 * far as a reason of today or of the next weeks names it; 0 where none does.
 */
export function everyDays(need: Pick<VisitNeed, "must_go" | "reasons" | "why_not_higher">): number {
  const { uncounted, next } = need.why_not_higher;
  const scored = [...need.must_go, ...need.reasons, ...uncounted, ...next.map((n) => n.scored)];
  for (const { reason } of scored) {
    const every = reason.values?.every_days;
    if (typeof every === "number" && every > 0) return every;
  }
  return 0;
}
