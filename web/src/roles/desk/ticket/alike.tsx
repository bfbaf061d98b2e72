import type { Thread, TicketLine } from "../../../api/types";
import { Button } from "../../../ui/button";
import { deskWords } from "../words";
import { joinable } from "./moves";
import { titleOf } from "./title";

const near = 72 * 3_600_000;

/**
 * alike are the farm's tickets about the same sign or rule that came within 72
 * hours of this one and that it may become part of, nearest in time first.
 */
export function alike(ticket: TicketLine, others: readonly TicketLine[]): TicketLine[] {
  if (ticket.state === "settled" || !(ticket.subject || ticket.rule)) return [];
  const apart = (o: TicketLine) => Math.abs(Date.parse(o.opened_at) - Date.parse(ticket.opened_at));
  return joinable(ticket, others)
    .filter((o) => o.subject === ticket.subject && o.rule === ticket.rule && apart(o) <= near)
    .sort((a, b) => apart(a) - apart(b));
}

/** Alike offers to join two tickets that are likely one, or to link them, and shows what is linked. */
export function Alike({
  ticket,
  others,
  join,
  link,
}: {
  ticket: Thread;
  others: readonly TicketLine[];
  join: (into: string) => void;
  link: (other: string, off: boolean) => void;
}) {
  const words = deskWords().ticket.alike;
  const linked = ticket.linked ?? [];
  const first = alike(ticket, others).find((t) => !linked.some((l) => l.id === t.id));
  return (
    <>
      {first && (
        <p class="alike">
          {words.text(first.number)}{" "}
          <Button onClick={() => join(first.id)}>{words.join(first.number)}</Button>{" "}
          <Button onClick={() => link(first.id, false)}>{words.link}</Button>
        </p>
      )}
      {linked.map((other) => (
        <p key={other.id} class="alike">
          {words.linked} <a href={`/desk?ticket=${other.id}`}>{other.number}</a> {titleOf(other)}{" "}
          <Button kind="quiet" onClick={() => link(other.id, true)}>
            {words.unlink(other.number)}
          </Button>
        </p>
      ))}
    </>
  );
}
