import type { StandingCount } from "../../api/types";
import type { Standing } from "../../farm/words";

/** The standings in the order in which they ask for attention. */
export const order: readonly Standing[] = [
  "behind",
  "no-news",
  "slipping",
  "on-course",
  "paused",
  "complete",
  "to-confirm",
];

/** countsBy adds farms up by standing, in one branch or in all. */
export function countsBy(counts: readonly StandingCount[], branch: string): Map<string, number> {
  const by = new Map<string, number>();
  for (const count of counts) {
    if (branch && count.branch_id !== branch) continue;
    by.set(count.standing, (by.get(count.standing) ?? 0) + count.farms);
  }
  return by;
}
