import type { FarmMessages } from "../farm/en";
import { lastDoneOf, nextOf, type Strip, type StripMilestone } from "./data";

/** sentenceOf says what the strip shows, for those who hear it. */
export function sentenceOf(strip: Strip, words: FarmMessages): string {
  const say = words.strip;
  const done = strip.milestones.filter((m) => m.state === "done" || m.state === "implied").length;
  const last = lastDoneOf(strip);
  const next = nextOf(strip);
  const harvest = strip.milestones.find((m) => m.key === strip.harvest);
  const parts = [
    strip.start ? say.started(strip.start) : say.nothing,
    strip.milestones.length > 0 ? say.progress(done, strip.milestones.length) : "",
    last?.done_on ? say.lastDone(last.name, last.done_on) : "",
    next && next.key !== strip.harvest ? [say.next(next.name), ...datesOf(next, words)] : "",
    harvest && harvest.state !== "done" ? [say.harvest, ...datesOf(harvest, words)] : "",
    strip.slip === undefined ? "" : say.late(strip.slip),
  ];
  return parts.flat().filter(Boolean).join(" ");
}

function datesOf({ window, expected }: StripMilestone, words: FarmMessages): string[] {
  return [
    window ? words.strip.planned(window.earliest, window.latest) : "",
    expected ? words.strip.expected(expected.p50, expected.p90) : "",
  ];
}
