// @vitest-environment node
import { describe, expect, it } from "vitest";
import { ticketLine } from "../../../testing/desk";
import { endOfDay, instant, instantAt, spanOf, wantedOf } from "./due";

const now = new Date("2026-03-12T09:00:00Z");
const never = "0001-01-01T00:00:00Z";
const spoken = "2026-03-11T08:00:00Z";

describe("what a ticket wants", () => {
  const first = "2026-03-12T08:30:00Z";
  const plan = "2026-03-14T08:30:00Z";
  const line = (state: string, spokenAt: string) =>
    ticketLine({ state, first_word_at: spokenAt, first_word_by: first, plan_by: plan });

  it.each([
    ["reported", never, "first-word", first, true],
    ["reported", spoken, "plan", plan, false],
    ["assessed", spoken, "plan", plan, false],
  ])("%s, spoken at %s: %s by %s", (state, spokenAt, what, by, overdue) => {
    expect(wantedOf(line(state, spokenAt), now)).toEqual({ what, by: new Date(by), overdue });
  });
  it.each(["in-hand", "waiting", "settled"])("nothing once it is %s", (state) => {
    expect(wantedOf(line(state, spoken), now)).toBeNull();
  });
  it("nothing where no time is set", () => {
    expect(wantedOf(ticketLine({ first_word_by: never }), now)).toBeNull();
    expect(instant("no time")).toBeNull();
  });
});

it.each([
  [25 * 60_000 + 59_000, { amount: 25, measure: "minutes" }],
  [-90 * 60_000, { amount: 90, measure: "minutes" }],
  [5 * 3_600_000, { amount: 5, measure: "hours" }],
  [73 * 3_600_000, { amount: 3, measure: "days" }],
])("%d ms is %j", (ms, span) => {
  expect(spanOf(ms)).toEqual(span);
});

describe("the wall of a zone", () => {
  it.each([
    ["2026-03-12T09:00:00Z", "Africa/Douala", "2026-03-12T23:00:00.000Z"],
    ["2026-03-12T23:30:00Z", "Africa/Douala", "2026-03-13T23:00:00.000Z"],
    // The clocks of Paris go forward on 29 March 2026 at 01:00 UTC: that day has 23 hours.
    ["2026-03-28T23:30:00Z", "Europe/Paris", "2026-03-29T22:00:00.000Z"],
  ])("%s in %s ends its day at %s", (at, zone, end) => {
    expect(endOfDay(new Date(at), zone).toISOString()).toBe(end);
  });
  it.each([
    ["2026-03-12", "10:40", "Africa/Douala", "2026-03-12T09:40:00.000Z"],
    ["2026-07-01", "10:40", "Europe/Paris", "2026-07-01T08:40:00.000Z"],
    ["2026-03-29", "00:30", "Europe/Paris", "2026-03-28T23:30:00.000Z"],
    ["2026-03-29", "12:00", "Europe/Paris", "2026-03-29T10:00:00.000Z"],
  ])("%s %s in %s is %s", (date, time, zone, at) => {
    expect(instantAt(date, time, zone)?.toISOString()).toBe(at);
  });
  it("refuses what is no date or time", () => {
    expect(instantAt("", "10:00")).toBeNull();
    expect(instantAt("2026-03-12", "")).toBeNull();
    expect(instantAt("2026-13-40", "10:00")).toBeNull();
  });
});
