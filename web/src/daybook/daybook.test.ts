import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { type Bounds, judge, type Ruling, type Stock } from "./judge";
import { type Sample, sampleOf } from "./sample";
import { standing } from "./standing";

interface Cases {
  judge: { name: string; bounds: Bounds; stock?: Stock; value: number; want: Ruling }[];
  sample: { name: string; weights: number[]; want: Sample }[];
  standing: { name: string; words: [string, string][]; want: string[] }[];
}

// The very cases that the server is held to.
const cases: Cases = JSON.parse(readFileSync("../domain/daybook/testdata/judge.json", "utf8"));

it.each(cases.judge)("judges $name", ({ bounds, stock, value, want }) => {
  const got = judge(bounds, value, stock);
  expect(got.verdict).toBe(want.verdict);
  expect(got.why).toBe(want.why);
  expect(got.limit ?? 0).toBeCloseTo(want.limit ?? 0, 9);
});

it.each(cases.sample)("weighs $name", ({ weights, want }) => {
  const got = sampleOf(weights);
  expect(got.n).toBe(want.n);
  expect(got.mean).toBeCloseTo(want.mean, 5);
  expect(got.sd).toBeCloseTo(want.sd, 5);
});

it.each(cases.standing)("lets stand: $name", ({ words, want }) => {
  const got = standing(words.map(([id, replaces]) => ({ id, replaces })));
  expect(got.map((w) => w.id)).toEqual(want);
});

it("takes no value for a number that is none", () => {
  expect(judge({}, Number.NaN).verdict).toBe("impossible");
});
