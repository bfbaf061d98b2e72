import { useState } from "preact/hooks";
import { api } from "../../api/client";
import { type ReadList, useRead, useReadList } from "../../api/read";
import type { TicketLine } from "../../api/types";
import { formats } from "../../i18n/format";
import { FirmNote, TicketState, Urgency } from "../../marks/marks";
import { Button } from "../../ui/button";
import { More, Shown } from "../../ui/shown";
import { namesOf } from "../packs";
import { personName, usePeople } from "../people";
import type { Names } from "../reason";
import { tellReasons } from "../told";
import {
  farmWords,
  type TicketState as StateName,
  type Urgency as UrgencyName,
  type WaitingOn,
} from "../words";
import { useFarm } from "./context";
import { pageWords } from "./words";

/** Tickets shows the farm's open tickets, each with its reasons and what has happened, and the settled ones when asked for. */
export function Tickets() {
  const words = pageWords();
  const [settled, setSettled] = useState(false);
  return (
    <section id="tickets" aria-labelledby="tickets-title">
      <h2 id="tickets-title">{words.parts.tickets}</h2>
      <TicketsIn state={undefined} />
      {settled ? (
        <>
          <h3>{words.tickets.settled}</h3>
          <TicketsIn state="settled" />
        </>
      ) : (
        <Button onClick={() => setSettled(true)}>{words.tickets.openSettled}</Button>
      )}
    </section>
  );
}

function TicketsIn({ state }: { state: "settled" | undefined }) {
  const words = pageWords().tickets;
  const { farm, times } = useFarm();
  const list: ReadList<TicketLine> = useReadList(
    `tickets ${farm.id} ${state} ${times}`,
    async (cursor, signal) => {
      const query = { farm: farm.id, limit: 50, ...(state ? { state } : {}), ...(cursor ? { cursor } : {}) };
      return (await api.get("/api/tickets", { query, signal })).body;
    },
  );
  return (
    <>
      <Shown read={list}>
        {(tickets) =>
          tickets.length === 0 ? (
            <p class="empty">{words.none}</p>
          ) : (
            <ul class="ruled">
              {tickets.map((ticket) => (
                <TicketRow key={ticket.id} ticket={ticket} />
              ))}
            </ul>
          )
        }
      </Shown>
      <More list={list} label={words.more} />
    </>
  );
}

/** ticketNames gives the words for the keys in a ticket's reasons. */
function useTicketNames(ticket: TicketLine): Names {
  const { farm } = useFarm();
  const unit = farm.units.find((u) => u.id === ticket.unit_id);
  return namesOf(unit?.enterprise, (kind, key) => {
    if (kind === "person") return farm.people.find((p) => p.person_id === key)?.name;
    if (kind === "unit") return farm.units.find((u) => u.id === key)?.name;
    return undefined;
  });
}

function TicketRow({ ticket }: { ticket: TicketLine }) {
  const words = pageWords().tickets;
  const names = useTicketNames(ticket);
  const { farm } = useFarm();
  const [open, setOpen] = useState(false);
  const told = tellReasons(ticket.reasons, names);
  const unit = farm.units.length > 1 ? farm.units.find((u) => u.id === ticket.unit_id)?.name : "";
  const title = ticket.title || farmWords().rules[ticket.rule as keyof ReturnType<typeof farmWords>["rules"]];
  return (
    <li class="ticket">
      <div class="ticket-head">
        <strong class="ticket-number">{ticket.number}</strong>
        <Urgency urgency={ticket.urgency as UrgencyName} />
        <TicketState state={ticket.state as StateName} waitingOn={ticket.waiting_on as WaitingOn | ""} />
        <span class="minor-inline">
          {[
            unit,
            ticket.state === "settled" ? "" : words.holder(ticket.holder),
            ticket.keeps_coming ? words.keeps : "",
            ticket.state === "settled"
              ? ""
              : words.plan(formats().dateTime(ticket.plan_by, farm.branch.time_zone)),
          ]
            .filter(Boolean)
            .join(" · ")}
        </span>
      </div>
      <p>
        {title && <strong>{title}. </strong>}
        {told.first}
      </p>
      <details open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary>{words.thread}</summary>
        {told.rest.length > 0 && (
          <ul class="reasons">
            {told.rest.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        )}
        {open && <ThreadOf ticket={ticket} />}
      </details>
    </li>
  );
}

function ThreadOf({ ticket }: { ticket: TicketLine }) {
  const words = pageWords().tickets;
  const { farm } = useFarm();
  const read = useRead(`ticket ${ticket.id} ${ticket.version}`, async (signal) => {
    return (await api.get("/api/tickets/{id}", { path: { id: ticket.id }, signal })).body;
  });
  usePeople(read.value?.events.map((e) => e.person_id) ?? []);
  return (
    <Shown read={read}>
      {(thread) => (
        <ol class="thread">
          {thread.events.map((event) => {
            const line = (
              <>
                <span class="minor-inline">
                  {formats().dateTime(event.at, farm.branch.time_zone)},{" "}
                  {personName(event.person_id) || words.sweep}
                </span>{" "}
                {words.events[event.kind] ?? event.kind}
                {event.to && event.from !== event.to && event.kind === "moved" && (
                  <>: {farmWords().state[event.to as StateName] ?? event.to}</>
                )}
                {event.text && <q>{event.text}</q>}
              </>
            );
            return <li key={event.id}>{event.kind === "note" ? <FirmNote>{line}</FirmNote> : line}</li>;
          })}
          {thread.outcome && (
            <li>
              {words.outcome}: {thread.outcome}
            </li>
          )}
        </ol>
      )}
    </Shown>
  );
}
