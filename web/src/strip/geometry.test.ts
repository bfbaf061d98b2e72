// @vitest-environment node
import { describe, expect, it } from "vitest";
import { lateHouse } from "../testing/strips";
import type { Strip } from "./data";
import { layOut, type Mark } from "./geometry";

const room = { width: 812, letter: 7, rows: 3 };
const mark = (key: string, strip: Strip = lateHouse): Mark => {
  const found = layOut(strip, room).marks.find((m) => m.key === key);
  if (!found) throw new Error(`no mark ${key}`);
  return found;
};

describe("the scale", () => {
  const tenDays: Strip = {
    start: "2026-01-01",
    today: "2026-01-06",
    harvest: "b",
    milestones: [
      { key: "a", name: "A", state: "done", done_on: "2026-01-01" },
      {
        key: "b",
        name: "B",
        state: "ahead",
        expected: { p10: "2026-01-09", p50: "2026-01-10", p90: "2026-01-11" },
      },
    ],
  };
  it("runs from the first date to the last, in proportion", () => {
    const { line, today, marks } = layOut(tenDays, { width: 112, letter: 0, rows: 0 });
    expect(line).toEqual({ x1: 6, x2: 106 });
    expect(today).toBe(56);
    expect(marks.map((m) => m.x)).toEqual([6, 96]);
    expect(marks[1]?.whisker).toEqual({ x1: 86, x2: 106 });
  });
  it("takes a common axis and keeps what lies outside at its ends", () => {
    const axis = { from: 20_454, to: 20_459 }; // 1 to 6 Jan 2026
    const { marks, today } = layOut(tenDays, { width: 112, letter: 0, rows: 0, axis });
    expect(today).toBe(106);
    expect(marks.map((m) => m.x)).toEqual([6, 106]);
  });
});

it("draws what is done solid, what is expected open and what is only implied not at all", () => {
  expect(mark("planted")).toMatchObject({ kind: "done", whisker: null });
  expect(mark("cover-ready").kind).toBe("forecast");
  expect(mark("cover-ready").whisker).not.toBeNull();
  expect(mark("water-proved")).toMatchObject({ kind: "unknown", x: null });
  expect(mark("water-proved").band).not.toBeNull();
});

it("lets nothing overlap within a lane", () => {
  const { marks, lanes } = layOut(lateHouse, room);
  for (let lane = 0; lane < lanes; lane++) {
    const reach = marks
      .filter((m) => m.lane === lane)
      .map((m) => [m.band, m.whisker].flatMap((s) => (s ? [s.x1, s.x2] : [])).concat(m.x ?? []));
    for (let i = 1; i < reach.length; i++) {
      expect(Math.min(...(reach[i] as number[]))).toBeGreaterThan(Math.max(...(reach[i - 1] as number[])));
    }
  }
});

it("writes the harvest, the next and the last done even where room is short", () => {
  const { marks } = layOut(lateHouse, { ...room, width: 420, rows: 2 });
  const named = marks.filter((m) => m.label).map((m) => m.key);
  expect(named).toEqual(expect.arrayContaining(["first-harvest", "cover-ready", "planted"]));
  expect(named.length).toBeLessThan(marks.length);
});

it("keeps names inside the drawing", () => {
  const { marks } = layOut(lateHouse, room);
  expect(marks.find((m) => m.key === "build-finished")?.label?.anchor ?? "start").toBe("start");
  for (const { label, name } of marks) {
    if (!label) continue;
    const long = name.length * room.letter;
    const left =
      label.anchor === "start" ? label.x : label.anchor === "end" ? label.x - long : label.x - long / 2;
    expect(left).toBeGreaterThanOrEqual(0);
    expect(left + long).toBeLessThanOrEqual(room.width);
  }
});

it("marks the months", () => {
  const { months } = layOut(lateHouse, room);
  expect(months[0]).toMatchObject({ month: 2, year: 2026 });
  expect(months[months.length - 1]).toMatchObject({ month: 5, year: 2027 });
  expect(months).toHaveLength(16);
});

it("draws a cycle of which nothing is known", () => {
  const nothing = layOut({ start: "", today: "", harvest: "", milestones: [] }, room);
  expect(nothing).toMatchObject({ today: null, marks: [], lanes: 1 });
});
