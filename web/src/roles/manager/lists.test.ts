// @vitest-environment node
import { expect, it } from "vitest";
import type { CycleRow, VisitLine, VisitNeed } from "../../api/types";
import { lateCycle } from "../../testing/farm";
import { axisOf } from "./axis";
import { countsBy } from "./counts";
import { daysOf } from "./days";
import { everyDays } from "./every";
import { queryOf } from "./farm-query";
import { addressOf } from "./filters";
import { dayTotals } from "./totals";

it("adds farms up by standing, in all branches or in one", () => {
  const counts = [
    { branch_id: "b1", standing: "behind", watched: true, farms: 4 },
    { branch_id: "b2", standing: "behind", watched: true, farms: 3 },
    { branch_id: "b1", standing: "to-confirm", watched: false, farms: 2 },
  ];
  expect([...countsBy(counts, "")]).toEqual([
    ["behind", 7],
    ["to-confirm", 2],
  ]);
  expect(countsBy(counts, "b2").get("to-confirm")).toBeUndefined();
});

it("leaves out of the question and of the address what is not filtered by", () => {
  const none = { standing: "", branch: "", enterprise: "", watched: "", q: "" };
  expect(queryOf(none)).toEqual({});
  expect(queryOf({ ...none, standing: "behind", watched: "maybe", q: "buea" })).toEqual({
    standing: "behind",
    q: "buea",
  });
  expect(addressOf("/manager/farms", none)).toBe("/manager/farms");
  expect(addressOf("/manager/farms", { q: "deux pièces", branch: "" })).toBe(
    "/manager/farms?q=deux+pi%C3%A8ces",
  );
});

it("puts the strips of a list on one time line", () => {
  const cycle = { outlook: lateCycle.outlook } as CycleRow;
  const axis = axisOf([cycle, {} as CycleRow]);
  const day = (text: string) => Date.parse(`${text}T00:00:00Z`) / 86_400_000;
  expect(axis).toEqual({ from: day("2026-01-05"), to: day("2027-09-02") });
  expect(axisOf([{} as CycleRow])).toBeUndefined();
  expect(axisOf([])).toBeUndefined();
});

it("groups visits by day and by who goes", () => {
  const visit = (id: string, on: string, officer_id: string, officer: string) =>
    ({ id, on, officer_id, officer }) as VisitLine;
  const days = daysOf([
    visit("1", "2026-03-18", "t", "Tende"),
    visit("2", "2026-03-17", "t", "Tende"),
    visit("3", "2026-03-17", "s", "Solange"),
    visit("4", "2026-03-17", "t", "Tende"),
  ]);
  expect(days.map((d) => [d.on, d.officers.map((o) => [o.name, o.stops.map((v) => v.id)])])).toEqual([
    [
      "2026-03-17",
      [
        ["Solange", ["3"]],
        ["Tende", ["2", "4"]],
      ],
    ],
    ["2026-03-18", [["Tende", ["1"]]]],
  ]);
});

it("finds the interval between visits wherever a reason names it", () => {
  const scored = (values: Record<string, unknown>) =>
    ({ reason: { code: "visit-due", values } }) as VisitNeed["reasons"][number];
  const need = (reasons: VisitNeed["reasons"], next: VisitNeed["reasons"]) => ({
    must_go: [],
    reasons,
    why_not_higher: {
      uncounted: [],
      next: next.map((s) => ({ in_days: 3, adds: 10, must: false, scored: s })),
    },
  });
  expect(everyDays(need([scored({ every_days: 14 })], []))).toBe(14);
  expect(everyDays(need([scored({ late_days: 3 })], [scored({ every_days: 30 })]))).toBe(30);
  expect(everyDays(need([scored({ every_days: "30" })], []))).toBe(0);
});

it("adds the branches of a day up and shows the quiet days", () => {
  const day = (on: string, branch_id: string, opened: number, raised: number) => ({
    on,
    branch_id,
    opened,
    raised,
  });
  const load = {
    from: "2026-03-01",
    to: "2026-03-03",
    // On the first, one of three was reopened by the sweep, which opens nothing.
    days: [day("2026-03-01", "b1", 2, 3), day("2026-03-01", "b2", 4, 1), day("2026-03-03", "b1", 1, 0)],
  };
  expect(dayTotals(load)).toEqual([
    { on: "2026-03-01", raised: 4, byPeople: 3 },
    { on: "2026-03-02", raised: 0, byPeople: 0 },
    { on: "2026-03-03", raised: 0, byPeople: 1 },
  ]);
});
