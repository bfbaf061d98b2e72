// @vitest-environment node
import { expect, it } from "vitest";
import en from "./en";
import fr from "./fr";
import { tellReasons } from "./told";

const late = (milestone: string, days: number) => ({
  code: "milestone-past-latest",
  values: { milestone, latest: "2026-09-13", days },
});
const plain = (text: string) => text.replace(/[\u00a0\u202f]/g, " ");

it("tells a late milestone once, with how many it drags along", () => {
  const told = tellReasons(
    [
      late("cover-ready", 73),
      late("stocked", 68),
      late("two-week-check", 50),
      { code: "slip", values: { days: 155 } },
    ],
    undefined,
    en,
  );
  expect(plain(told.first)).toBe(
    "cover ready is not done; its latest date was 13 Sep 2026, 73 days ago. 2 later milestones are past theirs too.",
  );
  expect(told.rest.map(plain)).toEqual(["The first harvest is likely 155 days late."]);
});

it("says one dragged milestone in the singular of either language", () => {
  const reasons = [late("cover-ready", 2), late("stocked", 1)];
  expect(tellReasons(reasons, undefined, en).first).toMatch(/1 later milestone is past its own too\.$/);
  expect(tellReasons(reasons, undefined, fr).first).toMatch(/1 étape suivante a aussi passé sa date\.$/);
});

it("has nothing to say about nothing", () => {
  expect(tellReasons([], undefined, en)).toEqual({ first: "", rest: [] });
});
