import type { Thread } from "../../../api/types";

/** What two versions of a ticket may differ in. */
export const fields = ["state", "urgency", "holder", "plan_by", "outcome", "joined_into"] as const;
export type Field = (typeof fields)[number];

/** A Difference is one thing of a ticket as it was seen and as it is now. */
export interface Difference {
  field: Field;
  was: string;
  is: string;
}

/** What has happened to a ticket since a person read it. */
export interface Changes {
  differences: Difference[];
  events: Thread["events"];
}

/** changesOf compares the ticket that a person saw with the one that is there now. */
export function changesOf(seen: Thread, now: Thread): Changes {
  const known = new Set(seen.events.map((e) => e.id));
  return {
    differences: fields
      .filter((field) => seen[field] !== now[field])
      .map((field) => ({ field, was: seen[field], is: now[field] })),
    events: now.events.filter((e) => !known.has(e.id)),
  };
}
