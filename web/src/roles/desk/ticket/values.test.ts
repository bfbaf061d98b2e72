// @vitest-environment node
import { describe, expect, it } from "vitest";
import { ticketThread } from "../../../testing/desk";
import type { Move } from "./moves";
import { differs, textsOf, type Values, valuesFor, wrongOf } from "./values";

const now = new Date("2026-03-12T09:00:00Z");
const ticket = ticketThread();
const values = (more: Partial<Values> = {}): Values => ({
  ...valuesFor(ticket, now, "Africa/Douala"),
  ...more,
});

describe("a form begins", () => {
  it("with what stands, and the time of the plan on the branch's wall", () => {
    expect(values()).toMatchObject({
      impact: "middle",
      timeToLoss: "week",
      danger: false,
      date: "2026-03-17",
      time: "10:00",
    });
  });
  it("with tomorrow where the time of the plan has passed", () => {
    const late = ticketThread({ plan_by: "2026-03-11T09:00:00Z" });
    expect(valuesFor(late, now, "Africa/Douala")).toMatchObject({ date: "2026-03-13", time: "10:00" });
  });
});

it("asks why where a judgement differs", () => {
  expect(differs(ticket, values())).toBe(false);
  expect(differs(ticket, values({ impact: "high" }))).toBe(true);
  expect(differs(ticket, values({ danger: true }))).toBe(true);
});

it.each<[Move, Partial<Values>, object]>([
  ["assess", {}, {}],
  ["assess", { timeToLoss: "hours" }, { note: "required" }],
  ["assess", { timeToLoss: "hours", note: "The tank runs dry" }, {}],
  ["take", {}, {}],
  ["give-back", {}, {}],
  ["wait", {}, { waitingOn: "required" }],
  ["wait", { waitingOn: "electrician" }, {}],
  ["settle", { outcome: " " }, { outcome: "required" }],
  ["settle", { outcome: "Planted" }, {}],
  ["hand-over", {}, { to: "required" }],
  ["join", {}, { into: "required" }],
  ["due", {}, { note: "required" }],
  ["due", { date: "", note: "No seed" }, { date: "required" }],
  ["reopen", {}, { note: "required" }],
  ["note", { note: "\n" }, { note: "required" }],
  ["message", { note: "On our way" }, {}],
])("%s with %j lacks %j", (move, more, wrong) => {
  expect(wrongOf(move, ticket, values(more), "Africa/Douala")).toEqual(wrong);
});

it("gives back what was typed", () => {
  expect(textsOf(values({ outcome: "Mended ", note: "", learned: "Carry a fuse" }))).toEqual([
    "Mended",
    "Carry a fuse",
  ]);
});
