import type { Urgency } from "../../../farm/words";

/** How much is at stake, highest first. */
export const impacts = ["high", "middle", "low"] as const;
export type Impact = (typeof impacts)[number];

/** How soon it is lost, soonest first. */
export const timesToLoss = ["hours", "week", "longer"] as const;
export type TimeToLoss = (typeof timesToLoss)[number];

/** A Judgement is how a person sees a ticket. */
export interface Judgement {
  impact: Impact;
  timeToLoss: TimeToLoss;
  danger: boolean;
}

const table: Record<Impact, Record<TimeToLoss, Urgency>> = {
  high: { hours: "animals-at-risk", week: "animals-at-risk", longer: "losing-time" },
  middle: { hours: "animals-at-risk", week: "losing-time", longer: "losing-time" },
  low: { hours: "losing-time", week: "routine", longer: "no-hurry" },
};

/**
 * urgencyOf shows what a judgement comes to before it is sent; the server
 * works it out by the same table (domain/ticket/urgency.go). A person in
 * danger stands above it.
 */
export function urgencyOf({ impact, timeToLoss, danger }: Judgement): Urgency {
  return danger ? "person-in-danger" : table[impact][timeToLoss];
}

const order: readonly Urgency[] = [
  "person-in-danger",
  "animals-at-risk",
  "losing-time",
  "routine",
  "no-hurry",
];

/** above says whether an urgency is higher than another. */
export function above(one: Urgency, other: Urgency): boolean {
  return order.indexOf(one) < order.indexOf(other);
}
