import { api } from "../../../api/client";
import type { Promised } from "../server";
import { bodyOf } from "./body";
import type { Draft } from "./draft";

/** What noting a call came to: the ticket that it opened, settled or was said on, if any. */
export interface Noted {
  ticket?: { id: string; number: string; how: "opened" | "settled" | "about" };
}

/**
 * sendCall notes a call under its own id, so that a note sent again after an
 * answer that was lost is one call, and marks the promises that it keeps.
 */
export async function sendCall(draft: Draft, promises: readonly Promised[]): Promise<Noted> {
  const { body } = await api.post("/api/calls", { body: bodyOf(draft), key: draft.id });
  await Promise.all(promises.filter((p) => draft.keeps.includes(p.id)).map((p) => keepPromise(p)));
  if (body.ticket_id && draft.card?.text) await sayByText(body.ticket_id, draft.id, draft.card.text);
  if (!body.ticket_id || draft.outcome === "noted") return {};
  const how = draft.outcome === "ticket" ? "opened" : draft.outcome;
  return { ticket: { id: body.ticket_id, number: body.ticket, how } };
}

// Sent again with the same key it is one message.
async function sayByText(ticketId: string, callId: string, text: string): Promise<void> {
  await api.post("/api/tickets/{id}/say", {
    path: { id: ticketId },
    body: { text, by_text: true },
    key: `text-${callId}`,
  });
}

/** keepPromise marks a promise as kept today. */
export async function keepPromise(promise: Promised): Promise<void> {
  await api.post("/api/promises/{id}/kept", {
    path: { id: promise.id },
    version: promise.version,
    body: { kept: true },
  });
}
