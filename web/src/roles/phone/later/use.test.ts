import "fake-indexeddb/auto";
import { beforeEach, expect, it } from "vitest";
import type { Entry } from "../../../offline/entry";
import { costOf, spend, used } from "./use";

const entry = (n: number): Entry => ({
  id: `e${n}`,
  person: "p",
  at: "",
  method: "POST",
  path: "/api/sync",
  body: { id: `e${n}`, kind: "day", data: { all_well: true } },
  what: "",
  state: "kept",
});

beforeEach(() => localStorage.clear());

it("adds up a month and begins the next at nothing", () => {
  spend(1000, new Date(2026, 2, 30));
  spend(500, new Date(2026, 2, 31));
  expect(used.value).toEqual({ month: "2026-03", bytes: 1500 });
  spend(7, new Date(2026, 3, 1));
  expect(used.value).toEqual({ month: "2026-04", bytes: 7 });
});

it("lives with what it cannot read", () => {
  localStorage.setItem("tendfold.used", "{");
  spend(7, new Date(2026, 3, 1));
  expect(used.value.bytes).toBe(7);
});

it("counts nothing for nothing, and a page once", () => {
  expect(costOf([], [])).toBe(0);
  const one = costOf([entry(1)], []);
  const two = costOf([entry(1), entry(2)], []);
  expect(two - one).toBeLessThan(one);
  expect(
    costOf([entry(1)], [{ id: "s", person: "p", at: "", kid: "k", enc: "A", ciphertext: "A" }]),
  ).toBeGreaterThan(two);
});
