import { useLayoutEffect, useRef } from "preact/hooks";
import type { Thread } from "../../../api/types";
import type { TicketState, Urgency } from "../../../farm/words";
import { farmWords } from "../../../farm/words";
import { Button } from "../../../ui/button";
import { zoneOf } from "../firm";
import { instant } from "../queue/due";
import { whenOf } from "../queue/when";
import { deskWords } from "../words";
import { changesOf, type Field } from "./differences";
import { EventLine } from "./event-line";
import type { Move } from "./moves";
import { textsOf, type Values } from "./values";

/** A Beaten is a move that was refused because the ticket had changed: both versions, and what the person wrote. */
export interface Beaten {
  move: Move;
  seen: Thread;
  values: Values;
}

/** Conflict shows what changed while a person wrote, beside what they wrote; they decide. */
export function Conflict({
  beaten,
  now,
  legal,
  nameOf,
  again,
  drop,
}: {
  beaten: Beaten;
  now: Thread;
  /** Whether the move is still possible from where the ticket is now. */
  legal: boolean;
  nameOf: (id: string) => string;
  again: () => void;
  drop: () => void;
}) {
  const words = deskWords().ticket;
  const { differences, events } = changesOf(beaten.seen, now);
  const heading = useRef<HTMLHeadingElement>(null);
  useLayoutEffect(() => heading.current?.focus(), []);
  const texts = textsOf(beaten.values);
  return (
    <section class="conflict" aria-label={words.conflict.title}>
      <h3 ref={heading} tabIndex={-1}>
        {words.conflict.title}
      </h3>
      <p>{words.conflict.text}</p>
      {differences.length > 0 && (
        <table class="table">
          <thead>
            <tr>
              <th scope="col">{words.conflict.what}</th>
              <th scope="col">{words.conflict.was}</th>
              <th scope="col">{words.conflict.is}</th>
            </tr>
          </thead>
          <tbody>
            {differences.map(({ field, was, is }) => (
              <tr key={field}>
                <th scope="row">{words.conflict.fields[field]}</th>
                <td>{shownAs(field, was, now)}</td>
                <td>
                  <strong>{shownAs(field, is, now)}</strong>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {events.length > 0 && (
        <>
          <h4>{words.conflict.since}</h4>
          <ul class="thread">
            {events.map((event) => (
              <EventLine key={event.id} event={event} ticket={now} nameOf={nameOf} />
            ))}
          </ul>
        </>
      )}
      <h4>{words.conflict.yours}</h4>
      <p>
        {words.moves[beaten.move]}
        {texts.map((text) => (
          <q key={text} class="yours">
            {text}
          </q>
        ))}
      </p>
      <p class="move-end">
        {legal ? (
          <Button kind="main" onClick={again}>
            {words.conflict.again}
          </Button>
        ) : (
          words.conflict.noLonger
        )}
        <Button onClick={drop}>{words.conflict.drop}</Button>
      </p>
    </section>
  );
}

function shownAs(field: Field, value: string, ticket: Thread): string {
  const { conflict } = deskWords().ticket;
  const firm = farmWords();
  switch (field) {
    case "state":
      return firm.state[value as TicketState] ?? value;
    case "urgency":
      return firm.urgency[value as Urgency] ?? value;
    case "holder":
      return value || conflict.nobody;
    case "plan_by": {
      const at = instant(value);
      return at ? whenOf(at, new Date(), zoneOf(ticket.branch_id)) : conflict.nothing;
    }
    default:
      return value || conflict.nothing;
  }
}
