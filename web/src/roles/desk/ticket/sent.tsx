import { useState } from "preact/hooks";
import type { components } from "../../../api/api.gen";
import { api } from "../../../api/client";
import type { Thread } from "../../../api/types";
import { formats } from "../../../i18n/format";
import { Button } from "../../../ui/button";
import { Trouble } from "../../../ui/states";
import { zoneOf } from "../firm";
import { deskWords } from "../words";

type Message = components["schemas"]["Message"];

// What a person can mend: the gateway is there now, or the budget was raised.
const mendable: readonly string[] = ["failed", "no-gateway", "over-budget"];

/** Sent lists what left the house about a ticket and what became of it, newest first. */
export function Sent({ ticket, again }: { ticket: Thread; again: () => void }) {
  const words = deskWords().ticket.sent;
  const messages = ticket.messages ?? [];
  if (messages.length === 0) return null;
  return (
    <section class="history" aria-label={words.title}>
      <h3>{words.title}</h3>
      <ol class="thread">
        {[...messages].reverse().map((message) => (
          <Line key={message.id} message={message} zone={zoneOf(ticket.branch_id)} again={again} />
        ))}
      </ol>
    </section>
  );
}

function Line({ message, zone, again }: { message: Message; zone: string | undefined; again: () => void }) {
  const words = deskWords().ticket.sent;
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<unknown>(null);
  const at = message.done_at ?? message.made_at;
  const send = async () => {
    setBusy(true);
    setError(null);
    try {
      await api.post("/api/messages/{id}/again", { path: { id: message.id } });
      again();
    } catch (failure) {
      setError(failure);
    } finally {
      setBusy(false);
    }
  };
  return (
    <li class="event">
      <p class="event-what">
        {words.channel[message.channel]} <b>{words.state[message.state]}</b>{" "}
        <time dateTime={at}>{formats().dateTime(at, zone)}</time>
        {message.parts ? <span class="field-hint"> {words.parts(message.parts)}</span> : null}
      </p>
      <blockquote class="event-said">
        {message.body.split("\n").map((line, i) => (
          <p key={i}>{line}</p>
        ))}
      </blockquote>
      {mendable.includes(message.state) && (
        <Button busy={busy} onClick={() => void send()}>
          {words.again}
        </Button>
      )}
      {error !== null && <Trouble error={error} texts={words.problems} />}
    </li>
  );
}
