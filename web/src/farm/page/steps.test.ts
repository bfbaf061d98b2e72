// @vitest-environment node
import { expect, it } from "vitest";
import { lateCycle, smallPack } from "../../testing/farm";
import { checksOf, suffices } from "./checks";
import { nextStep, stepsOf } from "./steps";

const noNames = () => undefined;

it("lists milestones in the programme's order with plan, forecast and go-ahead", () => {
  const steps = stepsOf(lateCycle, smallPack, noNames);
  expect(steps.map((s) => `${s.key} ${s.state}`)).toEqual([
    "planted done",
    "cover-ready open",
    "ready-to-stock ahead",
    "stocked ahead",
    "first-harvest ahead",
  ]);
  expect(steps[0]).toMatchObject({ doneOn: "2026-01-05", grade: "staff-saw", expected: null });
  expect(steps[2]?.goAhead?.missing).toHaveLength(4);
  expect(steps[4]?.basis).toBe("D");
  expect(nextStep(steps)?.key).toBe("cover-ready");
});

it("believes a mark before the sweep has seen it, and one that was taken back", () => {
  const marked = structuredClone(lateCycle);
  const cover = marked.milestones[1];
  const planted = marked.milestones[0];
  if (!cover || !planted) throw new Error("the fixture has five milestones");
  cover.done_on = "2026-03-12";
  planted.done_on = "";
  const steps = stepsOf(marked, smallPack, noNames);
  expect(steps[1]).toMatchObject({ state: "done", doneOn: "2026-03-12", expected: null });
  expect(steps[0]).toMatchObject({ state: "open", doneOn: "" });
});

it("lists what the baseline knows before the first sweep and without the pack", () => {
  const { outlook: _, ...unswept } = lateCycle;
  const steps = stepsOf(unswept, undefined, noNames);
  expect(steps).toHaveLength(5);
  expect(steps[1]).toMatchObject({ name: "cover ready", state: "ahead", expected: null });
});

it.each([
  ["staff-saw", "word", false],
  ["staff-saw", "photo", true],
  ["photo", "staff-saw", true],
  ["photo", "register", false],
  ["word", "register", true],
  ["", "word", true],
])("where %s is the least, %s is enough: %s", (weakest, grade, enough) => {
  expect(suffices(weakest, grade)).toBe(enough);
});

it("tells verified from said and from not so", () => {
  const [list] = checksOf(lateCycle, smallPack);
  expect(list?.checks.map((c) => `${c.item.key} ${c.state} ${c.needed}`)).toEqual([
    "walls-tight no true",
    "door-closes weak true",
    "feed-in-store verified false",
  ]);
  expect(list).toMatchObject({ verified: 1, needed: 2 });
});

it("leaves out lists of milestones that the cycle does not have", () => {
  const short = { ...lateCycle, milestones: lateCycle.milestones.filter((m) => m.key !== "ready-to-stock") };
  expect(checksOf(short, smallPack)).toEqual([]);
});
