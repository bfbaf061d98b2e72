import type { TicketLine } from "../../../api/types";
import type { TicketState as StateName, Urgency as UrgencyName, WaitingOn } from "../../../farm/words";
import { TicketState, Urgency } from "../../../marks/marks";
import { titleOf } from "../ticket/title";
import { deskWords } from "../words";
import { Line } from "./line";

const mostTickets = 3;

/** TicketsLine are the open tickets, the most urgent first. */
export function TicketsLine({ tickets }: { tickets: readonly TicketLine[] }) {
  const words = deskWords().brief;
  return (
    <Line name={words.lines.tickets}>
      {tickets.length === 0 && words.noTickets}
      {tickets.slice(0, mostTickets).map((ticket) => (
        <p class="unit-line" key={ticket.id}>
          <Urgency urgency={ticket.urgency as UrgencyName} />
          <a href={`/desk?ticket=${ticket.id}`}>{ticket.number}</a>
          <span class="cut">{titleOf(ticket)}</span>
          <TicketState state={ticket.state as StateName} waitingOn={ticket.waiting_on as WaitingOn | ""} />
          {ticket.holder && <span>{ticket.holder}</span>}
        </p>
      ))}
      {tickets.length > mostTickets && (
        <p class="field-hint">{words.andTickets(tickets.length - mostTickets)}</p>
      )}
    </Line>
  );
}
