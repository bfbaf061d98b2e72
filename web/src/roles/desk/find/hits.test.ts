// @vitest-environment node
import { describe, expect, it } from "vitest";
import type { Hit } from "../server";
import { addressOf, distinct, looksLikePhone, sure } from "./hits";

const hit = (more: Partial<Hit> = {}): Hit => ({
  kind: "farm",
  id: "f1",
  farm_id: "f1",
  label: "Three Palms",
  farm: "Three Palms",
  why: "name",
  client: "Tabi and Sons",
  town: "Limbe",
  branch_id: "b1",
  standing: "behind",
  phone: "",
  language: "",
  ...more,
});

describe("a hit leads", () => {
  it.each([
    [hit(), "/desk/farms/f1"],
    [hit({ kind: "person", id: "p2" }), "/desk/farms/f1?who=p2"],
    [hit({ kind: "client", id: "k1" }), "/desk/farms/f1?who=client"],
    [hit({ kind: "client", id: "k1", farm_id: "", label: "Lobe & Co" }), "/desk/call?name=Lobe%20%26%20Co"],
    [hit({ kind: "ticket", id: "t1", label: "17/26" }), "/desk?ticket=t1"],
  ])("%j to %s", (found, address) => {
    expect(addressOf(found)).toBe(address);
  });
});

it("takes a note of no farm along", () => {
  expect(addressOf(hit({ kind: "person", id: "p2" }), true)).toBe("/desk/farms/f1?who=p2&carry=1");
});

it.each([
  ["+237 550 00 11 22", true],
  ["0550-0011", true],
  ["417/26", false],
  ["pond 2", false],
  ["12345", false],
])("%s looks like a phone number: %s", (text, so) => {
  expect(looksLikePhone(text)).toBe(so);
});

it("is sure where all leads to one farm", () => {
  expect(sure([hit(), hit({ kind: "person", id: "p2" })])).toBe(true);
  expect(sure([hit(), hit({ id: "f2", farm_id: "f2" })])).toBe(false);
  expect(sure([])).toBe(false);
});

it("names a thing once", () => {
  expect(distinct([hit(), hit({ why: "town" }), hit({ kind: "client", id: "k1" })]).map((h) => h.id)).toEqual(
    ["f1", "k1"],
  );
});
