import { type Day, parseDay } from "../time/day";

/** A Strip is one cycle as the strip shows it; dates are the API's texts, "" for none. */
export interface Strip {
  start: string;
  /** The day the forecast was made for. */
  today: string;
  milestones: readonly StripMilestone[];
  /** Key of the first harvest. */
  harvest: string;
  /** Days by which the first harvest has slipped; absent where nothing is forecast. */
  slip?: number | undefined;
}

/** A StripMilestone is a milestone with its baseline window and its forecast. */
export interface StripMilestone {
  key: string;
  name: string;
  /** implied: a later one is done, so this one is; its day is not known. */
  state: "done" | "implied" | "open" | "ahead";
  done_on?: string | undefined;
  window?: { earliest: string; target: string; latest: string } | undefined;
  expected?: { p10: string; p50: string; p90: string } | undefined;
}

/** A Span is two days, the first not after the second. */
export interface Span {
  from: Day;
  to: Day;
}

/** Dated is a milestone with its dates counted. */
export interface Dated {
  key: string;
  name: string;
  state: StripMilestone["state"];
  /** The day it was done, or is most likely to be; null when neither is known. */
  at: Day | null;
  band: Span | null;
  /** 1 in 10 before, 9 in 10 before; only for what is not done. */
  whisker: Span | null;
}

function span(from: string | undefined, to: string | undefined): Span | null {
  const [a, b] = [parseDay(from), parseDay(to)];
  return a === null || b === null ? null : { from: Math.min(a, b), to: Math.max(a, b) };
}

/** dated counts the dates of a milestone. */
export function dated(milestone: StripMilestone): Dated {
  const { key, name, state, window, expected } = milestone;
  const passed = state === "done" || state === "implied";
  return {
    key,
    name,
    state,
    at: state === "implied" ? null : parseDay(passed ? milestone.done_on : expected?.p50),
    band: span(window?.earliest, window?.latest),
    whisker: passed ? null : span(expected?.p10, expected?.p90),
  };
}

/** nextOf is the milestone that is being worked or waited for: the first open one. */
export function nextOf(strip: Strip): StripMilestone | undefined {
  return (
    strip.milestones.find((m) => m.state === "open") ?? strip.milestones.find((m) => m.state === "ahead")
  );
}

/** lastDoneOf is the latest milestone with a known day. */
export function lastDoneOf(strip: Strip): StripMilestone | undefined {
  const done = strip.milestones.filter((m) => m.state === "done" && m.done_on);
  return done.reduce<StripMilestone | undefined>(
    (last, m) => (!last || (m.done_on ?? "") >= (last.done_on ?? "") ? m : last),
    undefined,
  );
}
