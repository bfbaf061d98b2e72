import { useLayoutEffect, useRef } from "preact/hooks";
import { Button, LinkButton } from "../../../ui/button";
import { deskWords } from "../words";
import type { Noted } from "./send-call";

/** Sent says what the note came to and offers what comes next; the focus stands on it. */
export function Sent({ noted, another }: { noted: Noted; another: () => void }) {
  const words = deskWords().call;
  const box = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => box.current?.querySelector<HTMLElement>("a")?.focus(), []);
  const { ticket } = noted;
  return (
    <div class="sent" ref={box}>
      <p role="status">
        <strong>{words.sent}</strong> {ticket && words[ticket.how](ticket.number)}
      </p>
      <p class="move-end">
        {ticket && (
          <LinkButton kind="main" href={`/desk?ticket=${ticket.id}`}>
            {words.openTicket(ticket.number)}
          </LinkButton>
        )}
        <LinkButton href="/desk">{words.toQueue}</LinkButton>
        <Button onClick={another}>{words.another}</Button>
      </p>
    </div>
  );
}
