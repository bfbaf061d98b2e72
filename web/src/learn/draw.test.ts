import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { type Answer, type Asked, ask, type Bank, type Marks, mark } from "./draw";
import { mix, nextSeed, numbers } from "./stream";

interface Case {
  bank: Bank;
  seed: number;
  answers: Record<string, Answer>;
  asked: { question: string; options: string[] | null }[];
  marks: Marks;
  next: number;
}

// The server runs the same file.
const cases: Case[] = JSON.parse(readFileSync("../domain/training/testdata/draws.json", "utf8"));

it("draws and marks as the server does", () => {
  expect(cases.length).toBeGreaterThanOrEqual(60);
  for (const { bank, seed, answers, asked, marks, next } of cases) {
    expect(ask(bank, seed)).toEqual(asked.map((a): Asked => ({ ...a, options: a.options ?? [] })));
    expect(mark(bank, seed, answers)).toEqual(marks);
    expect(nextSeed(seed)).toBe(next);
  }
});

// xoshiro128** 1.1 by the reference program, as the test of the Rust crate
// rand_xoshiro has the values.
it("gives the reference program's numbers", () => {
  const next = numbers([1, 2, 3, 4]);
  expect(Array.from({ length: 10 }, next)).toEqual([
    11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804,
  ]);
});

// MurmurHash3_x86_32 of an empty key is its finaliser of the seed.
it("mixes as MurmurHash3 does", () => {
  expect([mix(0), mix(1), mix(0xffffffff)]).toEqual([0, 0x514e28b7, 0x81f16f39]);
});
