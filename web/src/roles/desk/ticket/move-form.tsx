import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { Problem } from "../../../api/problem";
import type { Thread, TicketLine } from "../../../api/types";
import { uuidv7 } from "../../../offline/uuid";
import { Button } from "../../../ui/button";
import { Trouble } from "../../../ui/states";
import { SendKey } from "../send-key";
import { deskWords } from "../words";
import { MoveFields } from "./fields";
import type { Move } from "./moves";
import { type Here, sendMove } from "./send";
import { type Values, valuesFor, type Wrong, wrongOf } from "./values";

// What was typed into a form that was closed: opening it again brings it back.
const begun = new Map<string, Values>();
const keyOf = (ticket: Thread, move: Move) => `${ticket.id} ${move}`;

/** What the form of a move needs, and whom it tells. */
export interface MoveFormProps {
  move: Move;
  ticket: Thread;
  others: readonly TicketLine[];
  here: Omit<Here, "key">;
  done: (answer: Thread) => void;
  /** Somebody was faster: what the person saw, and wrote. */
  beaten: (seen: Thread, values: Values) => void;
  close: () => void;
}

/** MoveForm asks for what a move needs, beside the evidence and not over it. The version that it was opened on is the one it is sent with. */
export function MoveForm({ move, ticket, others, here, done, beaten, close }: MoveFormProps) {
  const seen = useRef(ticket).current;
  const key = useRef(uuidv7()).current;
  const [values, setValues] = useState(
    () => begun.get(keyOf(seen, move)) ?? valuesFor(seen, new Date(), here.zone),
  );
  const [wrong, setWrong] = useState<Wrong>({});
  const [error, setError] = useState<unknown>(null);
  const [busy, setBusy] = useState(false);
  const form = useRef<HTMLFormElement>(null);
  const words = deskWords().ticket;
  // At once: the next letter must not meet the keys of the page.
  useLayoutEffect(() => focusFirst(form.current), []);

  const set = (more: Partial<Values>) => {
    const next = { ...values, ...more };
    begun.set(keyOf(seen, move), next);
    setValues(next);
  };
  const submit = async () => {
    const missing = wrongOf(move, seen, values, here.zone);
    setWrong(missing);
    if (busy) return;
    if (Object.keys(missing).length > 0) return focusWrong(form.current);
    setBusy(true);
    setError(null);
    try {
      const answer = await sendMove(move, seen, values, { ...here, key });
      begun.delete(keyOf(seen, move));
      done(answer);
    } catch (failure) {
      setBusy(false);
      if (failure instanceof Problem && failure.status === 412) beaten(seen, values);
      else setError(failure);
    }
  };
  return (
    <form
      ref={form}
      class="move-form"
      aria-label={words.moves[move]}
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
      onKeyDown={(event) => {
        if (event.key !== "Escape") return;
        event.stopPropagation();
        close();
      }}
    >
      <h3>{words.moves[move]}</h3>
      <MoveFields move={move} ticket={seen} others={others} values={values} wrong={wrong} set={set} />
      {error !== null && <Trouble error={error} texts={words.problems} />}
      <p class="move-end">
        <SendKey label={words.form.send} busy={busy} send={() => void submit()} />
        <Button kind="quiet" onClick={close}>
          {words.form.discard} <kbd>Esc</kbd>
        </Button>
      </p>
    </form>
  );
}

function focusFirst(form: HTMLFormElement | null): void {
  const first = form?.querySelector<HTMLElement>("input:checked, input:not([type=radio]), select, textarea");
  first?.focus();
}

/** focusWrong goes to the first field that is marked, once it has been drawn. */
export function focusWrong(form: HTMLElement | null): void {
  requestAnimationFrame(() => form?.querySelector<HTMLElement>("[aria-invalid=true]")?.focus());
}
