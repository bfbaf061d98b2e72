// @vitest-environment node
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Entry } from "../../offline/entry";
import { aFarm, someBook } from "../../testing/today";
import { compose } from "./compose";
import { beats, madeOf, outdates, type Stamped, type Word } from "./merge";
import { overlay, type View } from "./overlay";

interface Said extends Stamped {
  on: string;
  device_ms?: number;
}

interface Case {
  name: string;
  rule: "item" | "milestone";
  words: Said[];
  stands: string;
}

// The same cases hold the server's rule: domain/merge/merge_test.go.
const file = new URL("../../../../domain/merge/testdata/cases.json", import.meta.url);
const cases = JSON.parse(readFileSync(file, "utf8")) as Case[];

const deviceAt = (said: Said) =>
  said.device_ms === undefined ? {} : { device_at: new Date(said.device_ms).toISOString() };
const wordOf = (said: Said): Word => ({
  id: said.id,
  on: said.on,
  made: madeOf({ ...said, ...deviceAt(said) }),
});

function orders<T>(all: readonly T[]): T[][] {
  if (all.length < 2) return [[...all]];
  return all.flatMap((first, i) => orders(all.filter((_, j) => j !== i)).map((rest) => [first, ...rest]));
}

describe.each(cases)("$name", ({ rule, words, stands }) => {
  it("stands in every order", () => {
    const wins = rule === "item" ? beats : outdates;
    for (const order of orders(words.map(wordOf))) {
      const [first, ...rest] = order;
      const last = rest.reduce((stand, word) => (wins(word, stand) ? word : stand), first as Word);
      expect(last.id).toBe(stands);
    }
  });
});

// What the server knows already, and what still waits on the phone, cut at every place.
describe.each(cases.filter((c) => c.rule === "item"))("$name", ({ words, stands }) => {
  it("shows on the phone, however much the server knows already", () => {
    for (const order of orders(words)) {
      for (let cut = 0; cut < order.length; cut++) {
        const seen = view(order.slice(0, cut), order.slice(cut));
        const mark = seen.units[0]?.checklists?.[0]?.items[0]?.mark;
        expect(mark?.value).toBe(words.findIndex((w) => w.id === stands));
      }
    }
  });

  function view(known: Said[], waiting: Said[]): View {
    const farm = compose(aFarm(), structuredClone(someBook.packs));
    const item = farm.units[0]?.checklists[0]?.items[0];
    const wins = known.map(wordOf).reduce<Word | undefined>((s, w) => (!s || beats(w, s) ? w : s), undefined);
    if (item && wins) {
      const value = words.findIndex((w) => w.id === wins.id);
      item.mark = { answer: "yes", grade: "word", on: wins.on, made: wins.made, value };
    }
    const outbox = waiting.map((said) =>
      entryOf(
        said,
        words.findIndex((w) => w.id === said.id),
      ),
    );
    return overlay(farm, "2026-03-12T09:00:00Z", "2026-03-12", outbox);
  }
});

function entryOf(said: Said, value: number): Entry {
  const { device_ms: _, ...rest } = said;
  const data = { item: "soil-moist", answer: "yes", value };
  const body = { ...rest, ...deviceAt(said), farm_id: "f1", cycle_id: "y1", kind: "item", data };
  const { id } = said;
  return { id, person: "p", at: "", method: "POST", path: "/api/sync", body, what: "", state: "kept" };
}

it("leaves a milestone open that was unmarked after the phone marked it", () => {
  const farm = (made: string) => {
    const base = compose(aFarm(), structuredClone(someBook.packs));
    const milestone = base.units[0]?.milestones[0];
    if (milestone) milestone.made = made;
    return base;
  };
  const data = { milestone: "cover-ready" };
  const body = { id: "e", farm_id: "f1", cycle_id: "y1", kind: "milestone", on: "2026-03-12", data };
  const kept = {
    ...entryOf({ id: "e", on: "2026-03-12" }, 0),
    body: { ...body, hlc: "00000000000a-0000-00000001" },
  };
  const open = (made: string) =>
    overlay(farm(made), "2026-03-12T09:00:00Z", "2026-03-12", [kept]).units[0]?.milestones.length;
  expect(open("00000000000b-0000-00000000")).toBe(2);
  expect(open("000000000009-0000-00000000")).toBe(1);
});
