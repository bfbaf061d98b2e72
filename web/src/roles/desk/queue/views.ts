import type { paths } from "../../../api/api.gen";
import { endOfDay } from "./due";

/** The views of the queue, in the order of their keys 1 to 6. */
export const views = ["mine", "branch", "nobody", "waiting", "today", "overdue"] as const;
export type View = (typeof views)[number];

type Query = NonNullable<paths["/api/tickets"]["get"]["parameters"]["query"]>;

/** most is how many tickets a view brings: nobody works through more than the first of them. */
export const most = 200;

/** viewOf reads a view from an address; anything else is the first. */
export function viewOf(text: string | undefined): View {
  return views.find((v) => v === text) ?? "mine";
}

/**
 * queryOf asks for one view. "mine" is what is in my hands; all others are of
 * the branches that I work for, which the server keeps to by itself, or of
 * one of them.
 */
export function queryOf(view: View, branch: string, now: Date, zone?: string): Query {
  const more: Record<View, Query> = {
    mine: { mine: true },
    branch: {},
    nobody: { nobody: true },
    waiting: { state: "waiting" },
    today: { due_before: endOfDay(now, zone).toISOString() },
    overdue: { overdue: true },
  };
  return { limit: most, ...more[view], ...(branch && view !== "mine" ? { branch } : {}) };
}
