// @vitest-environment node
import { expect, it } from "vitest";
import { bodyOf, firstWords } from "./body";
import { type Draft, newDraft } from "./draft";

const at = new Date("2026-03-12T09:00:00Z");
const draft = (more: Partial<Draft> = {}): Draft => ({
  ...newDraft({ farm: { id: "f1", name: "Three Palms" }, who: "p2", phone: "" }, at),
  id: "c1",
  said: " The pump is dead ",
  ...more,
});

it("only notes what was said", () => {
  expect(bodyOf(draft())).toEqual({
    id: "c1",
    farm_id: "f1",
    person_id: "p2",
    channel: "phone",
    said: "The pump is dead",
    started_at: "2026-03-12T09:00:00.000Z",
    promises: [],
  });
});

it("names no person for the client, and no farm where none is known", () => {
  expect(bodyOf(draft({ who: "client", farmId: "", phone: "+237 5500 " }))).not.toHaveProperty("person_id");
  expect(bodyOf(draft({ who: "client", farmId: "", phone: "+237 5500 " }))).toMatchObject({
    phone: "+237 5500",
  });
  expect(bodyOf(draft({ farmId: "" }))).not.toHaveProperty("farm_id");
});

it("opens a ticket with its judgement, and takes promises along", () => {
  const body = bodyOf(
    draft({
      outcome: "ticket",
      title: "Pump stopped",
      unitId: "u1",
      impact: "high",
      timeToLoss: "hours",
      promises: [{ kind: "call-back", text: "Ring at noon ", dueOn: "2026-03-12" }],
    }),
  );
  expect(body.ticket).toEqual({
    unit_id: "u1",
    title: "Pump stopped",
    impact: "high",
    time_to_loss: "hours",
  });
  expect(body.promises).toEqual([{ kind: "call-back", text: "Ring at noon", due_on: "2026-03-12" }]);
});

it("goes on an open ticket", () => {
  const body = bodyOf(draft({ outcome: "about", ticketId: "t1", title: "left over" }));
  expect(body.ticket_id).toBe("t1");
  expect(body).not.toHaveProperty("ticket");
});

it("says so where a person is in danger", () => {
  expect(bodyOf(draft({ outcome: "ticket", title: "x", danger: true })).ticket).toMatchObject({
    danger: true,
  });
});

it("settles a question with its answer, or with the advice", () => {
  const settled = { outcome: "settled" as const, advice: "Once a week" };
  expect(bodyOf(draft(settled)).ticket).toEqual({
    title: "The pump is dead",
    impact: "low",
    time_to_loss: "longer",
    outcome: "Once a week",
  });
  expect(bodyOf(draft({ ...settled, answer: "Told how" })).ticket?.outcome).toBe("Told how");
});

it("cuts a title between words", () => {
  const long = "word ".repeat(40);
  expect(firstWords(long).length).toBeLessThanOrEqual(122);
  expect(firstWords(long)).toMatch(/word …$/);
  expect(firstWords("a\n b")).toBe("a b");
});
