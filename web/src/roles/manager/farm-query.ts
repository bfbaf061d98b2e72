import type { Standing as StandingName } from "../../farm/words";

/** What the list of farms can be filtered by. */
export const filterNames = ["standing", "branch", "enterprise", "watched", "q"] as const;

/** Filters are the values of the filters as the address has them; "" leaves one out. */
export type Filters = Record<(typeof filterNames)[number], string>;

/** queryOf leaves empty filters out of the question. */
export function queryOf({ standing, branch, enterprise, watched, q }: Filters) {
  return {
    ...(standing ? { standing: standing as StandingName } : {}),
    ...(branch ? { branch } : {}),
    ...(enterprise ? { enterprise } : {}),
    ...(watched === "yes" || watched === "no" ? { watched: watched as "yes" | "no" } : {}),
    ...(q ? { q } : {}),
  };
}
