import { api } from "../../../api/client";
import type { Thread } from "../../../api/types";
import { instantAt } from "../queue/due";
import type { Move } from "./moves";
import type { Impact, TimeToLoss } from "./urgency";
import type { Values } from "./values";

type Waited = "farm" | "supplier" | "electrician" | "vet" | "us";

/** Who acts, and where: what a move needs besides its form. */
export interface Here {
  me: string;
  zone: string | undefined;
  /** Makes a note or a message that is sent twice one. */
  key: string;
}

/**
 * sendMove makes a move on the version of the ticket that the person saw; a
 * newer one is refused (412) and nothing is lost. Notes and messages need no
 * version, for nobody's words are lost by another's.
 */
export async function sendMove(move: Move, ticket: Thread, values: Values, here: Here): Promise<Thread> {
  const path = { id: ticket.id };
  const { version } = ticket;
  const note = values.note.trim();
  const to = (state: "in-hand" | "waiting" | "settled" | "assessed", more: object = {}) =>
    api.post("/api/tickets/{id}/move", {
      path,
      version,
      body: { to: state, ...(note && { note }), ...more },
    });
  const hand = (person: string) =>
    api.post("/api/tickets/{id}/hand-over", { path, version, body: { to: person, ...(note && { note }) } });
  const say = (inside: boolean) =>
    api.post("/api/tickets/{id}/say", {
      path,
      key: here.key,
      body: { text: note, inside, ...(!inside && values.byText && { by_text: true }) },
    });
  const work: Record<Move, () => Promise<{ body: Thread }>> = {
    assess: () =>
      api.post("/api/tickets/{id}/assess", {
        path,
        version,
        body: {
          impact: values.impact as Impact,
          time_to_loss: values.timeToLoss as TimeToLoss,
          danger: values.danger,
          why: note,
        },
      }),
    // What another has in hand cannot be taken in hand again: it is handed to me.
    take: () => (ticket.state === "in-hand" ? hand(here.me) : to("in-hand")),
    "give-back": () => to("assessed"),
    wait: () => to("waiting", { waiting_on: values.waitingOn as Waited }),
    settle: () => to("settled", { outcome: values.outcome.trim(), learned: values.learned.trim() }),
    "hand-over": () => hand(values.to),
    due: () =>
      api.post("/api/tickets/{id}/due", {
        path,
        version,
        body: {
          plan_by: (instantAt(values.date, values.time, here.zone) as Date).toISOString(),
          why: note,
        },
      }),
    join: () => api.post("/api/tickets/{id}/join", { path, version, body: { into: values.into } }),
    reopen: () => to("assessed"),
    note: () => say(true),
    message: () => say(false),
    ask: () =>
      api.post("/api/tickets/{id}/ask", { path, key: here.key, body: { text: note, due_on: values.date } }),
  };
  return (await work[move]()).body;
}
