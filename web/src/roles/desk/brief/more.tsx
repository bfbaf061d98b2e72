import { useEffect, useRef, useState } from "preact/hooks";
import { pageWords } from "../../../farm/page/words";
import { formats } from "../../../i18n/format";
import { spoken } from "../../../keyboard/combo";
import { type Command, comboFor, useCommand } from "../../../keyboard/commands";
import { Button } from "../../../ui/button";
import { Loading, Trouble } from "../../../ui/states";
import { zoneOf } from "../firm";
import type { CallLine } from "../server";
import { deskWords } from "../words";
import type { BriefData } from "./data";
import { type PartName, partKeys, partNames } from "./part-names";

/** More is the rest of the farm, by key: one part at a time in the room that the six lines leave. */
export function More({ data, changed, times }: { data: BriefData; changed: () => void; times: number }) {
  const words = deskWords().brief;
  const [open, setOpen] = useState<PartName | null>(null);
  const room = useRef<HTMLElement>(null);
  const box = useRef<HTMLFieldSetElement>(null);
  useEffect(() => {
    if (open) room.current?.focus();
  }, [open]);
  const toggle = (name: PartName) => setOpen(open === name ? null : name);
  const close = () => {
    box.current?.querySelector<HTMLElement>("[aria-expanded=true]")?.focus();
    setOpen(null);
  };
  return (
    <>
      <fieldset class="more" ref={box} aria-label={words.more}>
        {partNames.map((name) => (
          <PartButton key={name} name={name} open={open === name} toggle={() => toggle(name)} />
        ))}
        <PageLink id={data.farm.id} />
      </fieldset>
      {open && (
        <section
          class="more-room"
          ref={room}
          // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard (WCAG 2.1.1)
          tabIndex={0}
          aria-label={`${words.more}: ${words.parts[open]}`}
          onKeyDown={(event) => event.key === "Escape" && close()}
        >
          <h2>{words.parts[open]}</h2>
          {open === "calls" ? (
            <Calls calls={data.calls} zone={zoneOf(data.farm.branch_id)} />
          ) : (
            <BorrowedPart name={open} farm={data.farm} changed={changed} times={times} />
          )}
          <Button kind="quiet" onClick={close}>
            {words.closePart}
          </Button>
        </section>
      )}
    </>
  );
}

function PartButton({ name, open, toggle }: { name: PartName; open: boolean; toggle: () => void }) {
  const label = deskWords().brief.parts[name];
  const command: Command = {
    id: `desk.part.${name}`,
    combo: partKeys[name],
    label: () => deskWords().keys.part(label),
  };
  useCommand(command, toggle);
  return (
    <button type="button" class="button button-quiet" aria-expanded={open} onClick={toggle}>
      {label} <kbd>{spoken(comboFor(command))}</kbd>
    </button>
  );
}

function PageLink({ id }: { id: string }) {
  const link = useRef<HTMLAnchorElement>(null);
  const command: Command = { id: "desk.page", combo: "f", label: () => deskWords().keys.page };
  useCommand(command, () => link.current?.click());
  return (
    <a class="button button-quiet" ref={link} href={`/farms/${id}`}>
      {deskWords().brief.farmPage} <kbd>{spoken(comboFor(command))}</kbd>
    </a>
  );
}

type PartOf = typeof import("./parts").Part;

// The farm page's own parts and words come only when one asks for them: the
// six lines must not wait for them.
function BorrowedPart(props: Parameters<PartOf>[0]) {
  const [part, setPart] = useState<{ view: PartOf } | null>(null);
  const [error, setError] = useState<unknown>(null);
  useEffect(() => {
    Promise.all([import("./parts"), pageWords.load()])
      .then(([found]) => setPart({ view: found.Part }))
      .catch(setError);
  }, []);
  const room = useRef<HTMLDivElement>(null);
  useEffect(() => {
    // What one came for is the next thing to mark.
    if (part) room.current?.querySelector<HTMLElement>(".button-plain")?.focus();
  }, [part]);
  if (error !== null) return <Trouble error={error} />;
  return <div ref={room}>{part ? <part.view {...props} /> : <Loading />}</div>;
}

function Calls({ calls, zone }: { calls: readonly CallLine[]; zone: string | undefined }) {
  const words = deskWords();
  const { dateTime } = formats();
  if (calls.length === 0) return <p class="empty">{words.brief.noCalls}</p>;
  return (
    <ol class="thread">
      {calls.map((call) => (
        <li key={call.id} class="event">
          <p class="event-what">
            {call.person || call.phone || words.call.someoneElse}{" "}
            {(words.call.channels as Record<string, string>)[call.channel]}{" "}
            <time dateTime={call.started_at}>
              {dateTime(call.started_at, zone)} · {call.taker}
            </time>
          </p>
          <p>{call.said}</p>
          {call.advice && (
            <p>
              <b>{words.call.advice}:</b> {call.advice}
            </p>
          )}
          {call.ticket_id && <a href={`/desk?ticket=${call.ticket_id}`}>{words.queue.number(call.ticket)}</a>}
        </li>
      ))}
    </ol>
  );
}
