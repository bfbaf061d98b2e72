import type { RefObject } from "preact";
import type { FarmPage, Thread } from "../../../api/types";
import type { TicketState as StateName, Urgency as UrgencyName, WaitingOn } from "../../../farm/words";
import { TicketState, Urgency } from "../../../marks/marks";
import { useNow } from "../clock";
import { zoneOf } from "../firm";
import { wantedOf } from "../queue/due";
import { sayWanted } from "../queue/when";
import { deskWords } from "../words";

/** Head says which ticket it is, how urgent, in whose hands, what is due, and whom to call. */
export function Head({
  ticket,
  farm,
  heading,
}: {
  ticket: Thread;
  farm: FarmPage | undefined;
  heading: RefObject<HTMLHeadingElement>;
}) {
  const words = deskWords().ticket;
  const now = useNow();
  const wanted = wantedOf(ticket, now);
  const unit = farm?.units.find((u) => u.id === ticket.unit_id);
  return (
    <header class="pane-head">
      <h2 ref={heading} tabIndex={-1}>
        {words.title(ticket.number)}
      </h2>
      <Urgency urgency={ticket.urgency as UrgencyName} />
      <TicketState state={ticket.state as StateName} waitingOn={ticket.waiting_on as WaitingOn | ""} />
      <span>{words.holder(ticket.holder)}</span>
      <p class="pane-line">
        <a href={`/desk/farms/${ticket.farm_id}`}>
          {ticket.farm}
          {unit && `, ${unit.name}`}
        </a>
        <span>
          {words.opened(ticket.opened_on)} {words.origin[ticket.origin]}
        </span>
        {ticket.keeps_coming && <strong>{words.keeps}</strong>}
        <span class={wanted?.overdue ? "row-overdue" : undefined}>
          {wanted?.overdue && <b>{words.due.overdue}: </b>}
          {sayWanted(wanted, now, zoneOf(ticket.branch_id))}
        </span>
      </p>
      {farm && <Phones farm={farm} />}
    </header>
  );
}

function Phones({ farm }: { farm: FarmPage }) {
  const words = deskWords().ticket;
  const people = [...farm.people].sort((a, b) => Number(b.in_charge) - Number(a.in_charge));
  const lines = [
    ...people.map((p) => ({ name: p.name, phone: p.phone, what: p.in_charge ? words.inCharge : "" })),
    { name: farm.owner.name, phone: farm.owner.phone, what: words.client },
  ].filter((line) => line.phone);
  if (lines.length === 0) return null;
  return (
    <p class="pane-line">
      <span class="field-hint">{words.phones}:</span>
      {lines.slice(0, 3).map((line) => (
        <span key={line.phone + line.name}>
          {line.name}
          {line.what && ` (${line.what})`} <a href={`tel:${line.phone}`}>{line.phone}</a>
        </span>
      ))}
    </p>
  );
}
