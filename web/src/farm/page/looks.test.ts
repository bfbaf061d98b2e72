// @vitest-environment node
import { expect, it } from "vitest";
import { lateCycle, smallPack } from "../../testing/farm";
import { looksOf, parseWeights, readable } from "./looks";

it.each([
  ["32 35.5 30", [32, 35.5, 30], ""],
  ["32,5 30;31", [32.5, 30, 31], ""],
  ["32, 30,\n31", [32, 30, 31], ""],
  ["", [], ""],
  ["32 x 30", [32], "x"],
  ["0", [], "0"],
  ["-4", [], "-4"],
])("reads %j", (text, weights, bad) => {
  expect(parseWeights(text)).toEqual({ weights, bad });
});

it("asks for what is still under way and shows what was read", () => {
  expect(readable(lateCycle, smallPack)).toEqual(["cover", "weight"]);
  const stocked = {
    ...lateCycle,
    milestones: lateCycle.milestones.map((m) =>
      m.key === "cover-ready" ? { ...m, done_on: "2026-03-01" } : m,
    ),
  };
  expect(readable(stocked, smallPack)).toEqual(["weight"]);
  const read = { ...stocked, readings: [reading("a", "2026-02-20", 60), reading("b", "2026-02-10", 40)] };
  expect(readable(read, smallPack)).toEqual(["cover", "weight"]);
  expect(looksOf(read, "cover").map((l) => l.value)).toEqual([40, 60]);
});

function reading(id: string, On: string, Value: number) {
  return { id, cycle_id: "c1", Kind: "cover", On, Value, N: 0, SD: 0 };
}
