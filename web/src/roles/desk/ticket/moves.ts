import type { Thread, TicketLine } from "../../../api/types";
import type { Urgency } from "../../../farm/words";
import { above } from "./urgency";

/** What one may do with a ticket; each has its key and its words. */
export type Move =
  | "assess"
  | "take"
  | "give-back"
  | "wait"
  | "settle"
  | "hand-over"
  | "due"
  | "join"
  | "reopen"
  | "note"
  | "message"
  | "ask";

/** The keys of the moves as they come; each person may change them. */
export const keyOf: Record<Move, string> = {
  assess: "a",
  take: "t",
  wait: "w",
  settle: "s",
  "hand-over": "h",
  "give-back": "b",
  due: "d",
  join: "i",
  reopen: "r",
  note: "n",
  message: "m",
  ask: "e",
};

/**
 * movesOf lists what is allowed from where the ticket is, in the order in
 * which one works: the server names the states it may go to, the rest follows
 * from domain/ticket. Joining needs another open ticket of the farm that is as
 * urgent.
 */
export function movesOf(ticket: Thread, me: string, others: readonly TicketLine[]): Move[] {
  const open = ticket.state !== "settled";
  const to = (state: string) => ticket.moves.includes(state);
  const legal: Record<Move, boolean> = {
    assess: open,
    take: to("in-hand") || (ticket.state === "in-hand" && ticket.holder_id !== me),
    wait: open && to("waiting"),
    settle: to("settled"),
    "hand-over": open,
    "give-back": ticket.state === "in-hand" && to("assessed"),
    due: open && ticket.urgency !== "person-in-danger",
    join: open && joinable(ticket, others).length > 0,
    reopen: !open && to("assessed"),
    note: true,
    message: true,
    ask: open,
  };
  return (Object.keys(legal) as Move[]).filter((move) => legal[move]);
}

/** joinable are the tickets that this one may become part of: joining hides nothing that is more urgent. */
export function joinable(ticket: TicketLine, others: readonly TicketLine[]): TicketLine[] {
  return others.filter(
    (o) =>
      o.id !== ticket.id &&
      o.farm_id === ticket.farm_id &&
      o.state !== "settled" &&
      !above(ticket.urgency as Urgency, o.urgency as Urgency),
  );
}
