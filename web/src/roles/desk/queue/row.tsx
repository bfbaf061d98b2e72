import type { TicketLine } from "../../../api/types";
import type { TicketState as StateName, Urgency as UrgencyName, WaitingOn } from "../../../farm/words";
import { TicketState, Urgency } from "../../../marks/marks";
import { titleOf } from "../ticket/title";
import { deskWords } from "../words";
import { wantedOf } from "./due";
import { farOf, whenOf } from "./when";

/** Row is a ticket as a narrow strip: how urgent, where and by when above; whose it is, what and how soon below. */
export function Row({
  ticket,
  href,
  here,
  now,
  zone,
}: {
  ticket: TicketLine;
  href: string;
  here: boolean;
  now: Date;
  zone: string | undefined;
}) {
  const words = deskWords().ticket;
  const wanted = wantedOf(ticket, now);
  return (
    <a class={here ? "row row-here" : "row"} href={href} aria-current={here ? "true" : undefined}>
      <span class="row-top">
        <Urgency urgency={ticket.urgency as UrgencyName} />
        <span class="row-number">{ticket.number}</span>
        <strong class="row-farm">{ticket.farm}</strong>
        {wanted && <span class="row-due">{whenOf(wanted.by, now, zone)}</span>}
      </span>
      <span class="row-below">
        <TicketState state={ticket.state as StateName} waitingOn={ticket.waiting_on as WaitingOn | ""} />
        {ticket.holder && <span class="row-holder">{ticket.holder}</span>}
        <span class="row-what">{titleOf(ticket)}</span>
        {wanted && (
          <span class={wanted.overdue ? "row-due row-overdue" : "row-due"}>
            {wanted.overdue && <b>{words.due.overdue}: </b>}
            {words.due.short[wanted.what]} {farOf(wanted.by, now)}
          </span>
        )}
      </span>
    </a>
  );
}
