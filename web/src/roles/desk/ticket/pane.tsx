import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { api } from "../../../api/client";
import { Problem } from "../../../api/problem";
import { useRead } from "../../../api/read";
import { person } from "../../../api/session";
import type { FarmPage, Thread, TicketLine } from "../../../api/types";
import { uuidv7 } from "../../../offline/uuid";
import { Shown } from "../../../ui/shown";
import { Empty, Trouble } from "../../../ui/states";
import { useAgain } from "../clock";
import { staffName, zoneOf } from "../firm";
import { useLive } from "../live";
import { deskWords } from "../words";
import { Alike } from "./alike";
import { type Beaten, Conflict } from "./conflict";
import { EventLine } from "./event-line";
import { Evidence } from "./evidence";
import { Head } from "./head";
import { Here } from "./here";
import { MoveForm } from "./move-form";
import { type Move, movesOf } from "./moves";
import { MovesBar } from "./moves-bar";
import { sendMove } from "./send";
import { Sent } from "./sent";
import { type Values, valuesFor } from "./values";

/** TicketPane is the ticket beside the queue. `changed` is told after every move, so that the queue follows. */
export function TicketPane({ id, changed }: { id: string | undefined; changed: () => void }) {
  const words = deskWords().ticket;
  if (!id) {
    return (
      <section class="bench-pane" aria-label={words.none}>
        <Empty>
          {words.none} {words.noneHint}
        </Empty>
      </section>
    );
  }
  return <OpenTicket id={id} changed={changed} />;
}

function OpenTicket({ id, changed }: { id: string; changed: () => void }) {
  const words = deskWords().ticket;
  const thread = useRead(`ticket ${id}`, async (signal) => {
    const { body } = await api.get("/api/tickets/{id}", { path: { id }, signal });
    return body;
  });
  useAgain(thread.again);
  useLive((news) => news.kind === "changed" && (news.ticket === id || !news.ticket) && void thread.again());
  // The answer to a move is shown at once: the next key must meet the newest version.
  const [answer, setAnswer] = useState<Thread>();
  const newest = newer(thread.value, answer);
  const farmId = newest?.farm_id ?? "";
  const farm = useRead(`farm ${farmId}`, async (signal) => {
    if (!farmId) return undefined;
    const [page, others] = await Promise.all([
      api.get("/api/farms/{id}", { path: { id: farmId }, signal }),
      api.get("/api/tickets", { query: { farm: farmId, limit: 50 }, signal }),
    ]);
    return { page: page.body, others: others.body.items };
  });
  const again = async (made?: Thread) => {
    if (made) setAnswer(made);
    changed();
    await Promise.all([thread.again(), farm.again()]);
  };
  return (
    <section class="bench-pane" aria-label={thread.value ? words.title(thread.value.number) : words.none}>
      <Shown read={thread} texts={words.problems}>
        {(ticket) => (
          <Ticket
            ticket={newest ?? ticket}
            farm={farm.value?.page}
            others={farm.value?.others ?? []}
            again={again}
          />
        )}
      </Shown>
    </section>
  );
}

function newer(read: Thread | undefined, answer: Thread | undefined): Thread | undefined {
  if (!read || !answer) return answer ?? read;
  // A note or a message leaves the version as it is, and the thread longer.
  if (read.version !== answer.version) return read.version > answer.version ? read : answer;
  return read.events.length >= answer.events.length ? read : answer;
}

interface TicketProps {
  ticket: Thread;
  farm: FarmPage | undefined;
  others: readonly TicketLine[];
  again: (made?: Thread) => Promise<void>;
}

function Ticket({ ticket, farm, others, again }: TicketProps) {
  const words = deskWords().ticket;
  const [move, setMove] = useState<Move | null>(null);
  const [beaten, setBeaten] = useState<Beaten | null>(null);
  const [error, setError] = useState<unknown>(null);
  // What was just done stands in the pane: a message over it would lie on what one does next.
  const [told, tell] = useState("");
  const heading = useRef<HTMLHeadingElement>(null);
  const { route } = useLocation();
  useLayoutEffect(() => heading.current?.focus(), []);
  const me = person.value?.id ?? "";
  const here = { me, zone: zoneOf(ticket.branch_id) };
  const legal = movesOf(ticket, me, others);
  const nameOf = (id: string) => staffName(id) || (farm?.people.find((p) => p.person_id === id)?.name ?? "");
  const unit = farm?.units.find((u) => u.id === ticket.unit_id);

  const close = () => {
    setMove(null);
    heading.current?.focus();
  };
  const done = async (made: Move, answer: Thread) => {
    setMove(null);
    setBeaten(null);
    setError(null);
    heading.current?.focus();
    const read = again(answer);
    tell(words.done[made](ticket.number));
    await read;
  };
  const lost = (made: Move, seen: Thread, values: Values) => {
    setMove(null);
    setBeaten({ move: made, seen, values });
    void again();
  };
  // A move without a form is sent at once; so is one that is put on top of another's.
  const sendNow = async (made: Move, on: Thread, values: Values) => {
    setError(null);
    try {
      await done(made, await sendMove(made, on, values, { ...here, key: uuidv7() }));
    } catch (failure) {
      if (failure instanceof Problem && failure.status === 412) lost(made, on, values);
      else setError(failure);
    }
  };
  const link = async (other: string, off: boolean) => {
    setError(null);
    try {
      await again(
        (await api.post("/api/tickets/{id}/link", { path: { id: ticket.id }, body: { other, off } })).body,
      );
    } catch (failure) {
      setError(failure);
    }
  };
  const choose = (chosen: Move) => {
    setBeaten(null);
    tell("");
    if (chosen === "take") void sendNow("take", ticket, valuesFor(ticket, new Date(), here.zone));
    else setMove(chosen);
  };
  return (
    <>
      <Head ticket={ticket} farm={farm} heading={heading} />
      <Here id={ticket.id} />
      <MovesBar
        legal={legal}
        chosen={move}
        choose={choose}
        farm={() => route(`/desk/farms/${ticket.farm_id}`)}
      />
      <Alike
        ticket={ticket}
        others={others}
        join={(into) => void sendNow("join", ticket, { ...valuesFor(ticket, new Date(), here.zone), into })}
        link={(other, off) => void link(other, off)}
      />
      <p class="told" role="status">
        {told}
      </p>
      {error !== null && <Trouble error={error} texts={words.problems} />}
      {beaten && (
        <Conflict
          beaten={beaten}
          now={ticket}
          legal={legal.includes(beaten.move)}
          nameOf={nameOf}
          again={() => void sendNow(beaten.move, ticket, beaten.values)}
          drop={() => {
            setBeaten(null);
            heading.current?.focus();
          }}
        />
      )}
      {move && (
        <MoveForm
          key={`${ticket.id} ${move}`}
          move={move}
          ticket={ticket}
          others={others}
          here={here}
          done={(answer) => void done(move, answer)}
          beaten={(seen, values) => lost(move, seen, values)}
          close={close}
        />
      )}
      <div class="pane-body">
        <Evidence
          ticket={ticket}
          {...(unit ? { enterprise: unit.enterprise } : {})}
          names={(kind, key) => {
            if (kind === "person") return nameOf(key) || undefined;
            return kind === "unit" ? farm?.units.find((u) => u.id === key)?.name : undefined;
          }}
        />
        <section class="history" aria-label={words.thread.title}>
          <h3>{words.thread.title}</h3>
          <ol class="thread">
            {[...ticket.events].reverse().map((event) => (
              <EventLine key={event.id} event={event} ticket={ticket} nameOf={nameOf} />
            ))}
          </ol>
        </section>
        <Sent ticket={ticket} again={() => void again()} />
      </div>
    </>
  );
}
