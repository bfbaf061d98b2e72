// @vitest-environment node
import { describe, expect, it } from "vitest";
import { parseDay } from "../../../time/day";
import { type Draft, isBlank, newDraft, type Sign, withSign, wrongOf } from "./draft";

const draft = (more: Partial<Draft> = {}): Draft => ({
  ...newDraft(
    { farm: { id: "f1", name: "Three Palms" }, who: "p2", phone: "" },
    new Date("2026-03-12T09:00:00Z"),
  ),
  ...more,
});

const sign = (key: string, more: Partial<Sign> = {}): Sign => ({
  key,
  text: { en: key, fr: key },
  first_words: { en: "Do this.", fr: "Faites ceci." },
  likely: { en: "", fr: "" },
  impact: "high",
  time_to_loss: "hours",
  danger: false,
  grade: "common-practice",
  ...more,
});
const say = (s: Sign) => s.text.en;

describe("a draft", () => {
  it("is blank until something is typed", () => {
    expect(isBlank(draft({ channel: "chat", danger: true }))).toBe(true);
    expect(isBlank(draft({ said: " " }))).toBe(true);
    expect(isBlank(draft({ advice: "Wait" }))).toBe(false);
    expect(isBlank(draft({ promises: [{ kind: "visit", text: "Come by", dueOn: "" }] }))).toBe(false);
  });

  it("takes the judgement and the words of a sign, and asks for a ticket", () => {
    const seen = withSign(draft(), sign("pump-stopped"), say);
    expect(seen).toMatchObject({
      sign: "pump-stopped",
      title: "pump-stopped",
      impact: "high",
      timeToLoss: "hours",
      outcome: "ticket",
    });
  });

  it("keeps a title of one's own, and gives back that of the sign", () => {
    const own = withSign(draft({ title: "No water" }), sign("pump-stopped"), say);
    expect(own.title).toBe("No water");
    const first = withSign(draft(), sign("pump-stopped"), say);
    expect(withSign(first, sign("leak"), say, sign("pump-stopped")).title).toBe("leak");
    expect(withSign(first, undefined, say, sign("pump-stopped"))).toMatchObject({ sign: "", title: "" });
  });

  it("stays settled where a sign is named afterwards", () => {
    expect(withSign(draft({ outcome: "settled" }), sign("leak"), say).outcome).toBe("settled");
  });
});

describe("what is missing", () => {
  it.each<[string, Partial<Draft>, object]>([
    ["nothing was said", {}, { said: "required" }],
    ["only noted", { said: "All well" }, {}],
    ["a ticket without words", { said: "x", outcome: "ticket" }, { title: "required" }],
    ["a word on no ticket", { said: "x", outcome: "about" }, { ticketId: "required" }],
    ["a word on a ticket", { said: "x", outcome: "about", ticketId: "t1" }, {}],
    [
      "a promise to no farm",
      { said: "x", farmId: "", promises: [{ kind: "visit", text: "Come", dueOn: "2026-03-13" }] },
      { promiseFarm: "required" },
    ],
    [
      "a ticket without a farm",
      { said: "x", title: "y", outcome: "ticket", farmId: "" },
      { farm: "required" },
    ],
    ["a question without an answer", { said: "x", outcome: "settled" }, { answer: "required" }],
    ["a question answered by the advice", { said: "x", outcome: "settled", advice: "Yes" }, {}],
    [
      "a promise without a day",
      { said: "x", promises: [{ kind: "call-back", text: "Ring", dueOn: "" }] },
      { "promise-day-0": "range" },
    ],
    [
      "a promise without words, for a day that is over",
      { said: "x", promises: [{ kind: "call-back", text: " ", dueOn: "2026-03-11" }] },
      { "promise-0": "required", "promise-day-0": "range" },
    ],
    [
      "a promise for more than a year ahead",
      { said: "x", promises: [{ kind: "visit", text: "Come", dueOn: "2027-03-14" }] },
      { "promise-day-0": "range" },
    ],
    [
      "promises on the first and the last day",
      {
        said: "x",
        promises: [
          { kind: "visit", text: "Come", dueOn: "2026-03-12" },
          { kind: "visit", text: "Come", dueOn: "2027-03-13" },
        ],
      },
      {},
    ],
  ])("%s", (_, more, wrong) => {
    expect(wrongOf(draft(more), parseDay("2026-03-12") as number)).toEqual(wrong);
  });
});
