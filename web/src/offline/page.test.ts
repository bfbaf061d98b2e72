// @vitest-environment node
import { expect, it } from "vitest";
import type { Entry } from "./entry";
import { pageOf, received } from "./page";

const entry = (n: number, letters = 10, path = "/api/sync"): Entry => ({
  id: `e${n}`,
  seq: n,
  person: "p",
  at: "",
  method: "POST",
  path,
  body: { text: "x".repeat(letters) },
  what: "",
  state: "kept",
});
const many = (count: number, letters?: number) =>
  Array.from({ length: count }, (_, i) => entry(i + 1, letters));

it("takes 200 entries at most", () => {
  expect(pageOf(many(201))).toHaveLength(200);
});

it("takes what one request carries, and at least one", () => {
  expect(pageOf(many(5, 90_000))).toHaveLength(2);
  expect(pageOf(many(2, 900_000))).toHaveLength(1);
});

it("ends where another way begins", () => {
  expect(pageOf([entry(1), entry(2, 10, "/api/tickets/t/say"), entry(3)])).toHaveLength(1);
  expect(pageOf([entry(1, 10, "/api/tickets/t/say")])).toEqual([]);
});

it("changes nothing without a receipt", () => {
  const one = entry(1);
  expect(received(one, undefined, "now")).toBe(one);
  expect(received(one, { state: "later" }, "now")).toBe(one);
  expect(received(one, { state: "kept" }, "now")).toMatchObject({ state: "sent", sentAt: "now" });
});
