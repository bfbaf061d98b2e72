import type { NewCall } from "../server";
import type { Draft } from "./draft";

/**
 * bodyOf is what is sent of a note. A question settled at once is a ticket
 * that is opened and settled in the same step, so that it has its number: it
 * was in no hurry, and its answer is what was typed, else the advice.
 */
export function bodyOf(draft: Draft): NewCall {
  const text = (value: string) => value.trim();
  const person = draft.who === "client" ? "" : draft.who;
  const optional = (fields: Record<string, string>) =>
    Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== ""));
  return {
    id: draft.id,
    channel: draft.channel,
    said: text(draft.said),
    started_at: draft.startedAt,
    ...optional({
      farm_id: draft.farmId,
      person_id: person,
      phone: text(draft.phone),
      advice: text(draft.advice),
    }),
    promises: draft.promises.map((p) => ({ kind: p.kind, text: text(p.text), due_on: p.dueOn })),
    ...followUp(draft),
    ...cardOf(draft),
  };
}

function cardOf({ card }: Draft): Pick<NewCall, "card"> {
  if (!card || card.answers.length === 0) return {};
  const { why, text, ...given } = card;
  return { card: { ...given, ...(why.trim() ? { why: why.trim() } : {}), ...(text ? { text } : {}) } };
}

function followUp(draft: Draft): Pick<NewCall, "ticket" | "ticket_id"> {
  if (draft.outcome === "noted") return {};
  return draft.outcome === "about" ? { ticket_id: draft.ticketId } : { ticket: ticketOf(draft) };
}

function ticketOf(draft: Draft): NonNullable<NewCall["ticket"]> {
  const unit = draft.unitId ? { unit_id: draft.unitId } : {};
  if (draft.outcome === "settled") {
    const title = draft.title.trim() || firstWords(draft.said);
    const outcome = draft.answer.trim() || draft.advice.trim();
    return { ...unit, title, impact: "low", time_to_loss: "longer", outcome };
  }
  return {
    ...unit,
    title: draft.title.trim(),
    impact: draft.impact,
    time_to_loss: draft.timeToLoss,
    ...(draft.danger ? { danger: true } : {}),
  };
}

const longestTitle = 120;

/** firstWords are the first words of what was said, cut between words, for the title of a question. */
export function firstWords(said: string): string {
  const line = said.trim().replace(/\s+/g, " ");
  if (line.length <= longestTitle) return line;
  const cut = line.lastIndexOf(" ", longestTitle - 1);
  return `${line.slice(0, cut > 0 ? cut : longestTitle - 1)} …`;
}
