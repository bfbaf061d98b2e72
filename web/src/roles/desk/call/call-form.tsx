import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { FarmPage, TicketLine } from "../../../api/types";
import { formats } from "../../../i18n/format";
import { useCommand } from "../../../keyboard/commands";
import { isoOf, today } from "../../../time/day";
import { Button } from "../../../ui/button";
import { Choice, SelectField } from "../../../ui/choice";
import { TextArea, TextField } from "../../../ui/field";
import { Trouble } from "../../../ui/states";
import { whoOf } from "../brief/caller";
import { zoneOf } from "../firm";
import { SendKey } from "../send-key";
import type { Promised } from "../server";
import { JudgeRow } from "../ticket/judge";
import { focusWrong } from "../ticket/move-form";
import { titleOf } from "../ticket/title";
import { deskWords } from "../words";
import { CallClock, clockOf } from "./call-clock";
import { lacksWhy } from "./card/card-walk";
import { channels, type Draft, isBlank, type Outcome, outcomes, type Wrong, wrongOf } from "./draft";
import { KeptPromises, Promises } from "./promise-fields";
import { type Noted, sendCall } from "./send-call";
import { SignField } from "./sign-field";
import { useDraft } from "./use-draft";

const longest = 2000;

/** What the call note needs to know of the farm, where there is one. */
export interface CallFormProps {
  /** "" for a call about no farm yet. */
  farmId: string;
  /** undefined while it is being read. */
  farm: FarmPage | undefined;
  tickets: readonly TicketLine[];
  who: string;
  phone: string;
  /** What the note begins with. */
  begin?: string;
  /** Whether a note of no farm comes along: its farm has been found now. */
  carry?: boolean;
  promises: readonly Promised[];
  onSent: (noted: Noted) => void;
}

/** CallForm notes a call: who, what was said, what was advised and promised, and what comes of it. It begins where one writes. */
export function CallForm({
  farmId,
  farm,
  tickets,
  who,
  phone,
  begin = "",
  carry = false,
  promises,
  onSent,
}: CallFormProps) {
  const words = deskWords().call;
  const keys = deskWords().keys;
  const { draft, restored, set, clear } = useDraft({
    farm: { id: farmId, name: farm?.name ?? "" },
    who,
    phone,
    said: begin,
    carry,
  });
  const [wrong, setWrong] = useState<Wrong>({});
  const [error, setError] = useState<unknown>(null);
  const [busy, setBusy] = useState(false);
  const form = useRef<HTMLFormElement>(null);
  const toSaid = () => form.current?.querySelector<HTMLElement>(".call-said textarea")?.focus();
  useEffect(() => {
    // Whom the address names may be a colleague, or work there no longer.
    if (farm && whoOf(farm, draft.who) !== draft.who) set({ who: whoOf(farm, draft.who) });
  }, [farm?.id, draft.who]);
  // At once: what one types must not meet the keys of the page.
  useLayoutEffect(toSaid, []);
  useCommand({ id: "desk.note", combo: "n", label: () => keys.note }, toSaid);
  const beginCall = () => set({ begun: true });
  useCommand({ id: "desk.call.begin", combo: "F7", label: () => words.begin }, beginCall);
  const choose = (outcome: Outcome) => set({ outcome: draft.outcome === outcome ? "noted" : outcome });
  useCommand({ id: "desk.note.ticket", combo: "F8", label: () => keys.ticket }, () => choose("ticket"));
  useCommand({ id: "desk.note.settled", combo: "F9", label: () => keys.settled }, () => choose("settled"));

  const submit = async () => {
    await send(draft);
  };
  // What was said before the line broke is kept, and somebody calls again today.
  const cutOff = () => {
    const day = today(farm && zoneOf(farm.branch_id));
    const again = { kind: "call-back" as const, text: words.cutOffPromise, dueOn: isoOf(day) };
    const cut = words.cutOffSaid(clockOf(draft.startedAt, new Date()));
    void send({
      ...draft,
      said: [draft.said.trim(), cut].filter(Boolean).join("\n"),
      promises: farmId ? [...draft.promises.filter((p) => p.text.trim() !== ""), again] : [],
      outcome: draft.outcome === "settled" ? "noted" : draft.outcome,
    });
  };
  useCommand({ id: "desk.call.cut", combo: "Shift+F7", label: () => words.cutOff }, cutOff);
  const send = async (draft: Draft) => {
    const missing = wrongOf(draft, today(farm && zoneOf(farm.branch_id)));
    if (lacksWhy(draft)) missing.why = "required";
    setWrong(missing);
    if (busy) return;
    if (Object.keys(missing).length > 0) return focusWrong(form.current);
    setBusy(true);
    setError(null);
    try {
      const noted = await sendCall(draft, promises);
      clear();
      onSent(noted);
    } catch (failure) {
      setError(failure);
    } finally {
      setBusy(false);
    }
  };
  return (
    <form
      ref={form}
      class="call-form"
      aria-label={words.title}
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
      onKeyDown={(event) => {
        if (event.key === "Escape" && event.target instanceof HTMLElement) event.target.blur();
      }}
    >
      <div class="call-fields">
        {restored && <Restored draft={draft} farm={farm} clear={clear} />}
        <div class="side-by-side who-first">
          {farm && <Who farm={farm} draft={draft} set={set} />}
          {draft.who === "" && (
            <TextField
              label={words.phone}
              type="tel"
              optional
              input={{ inputMode: "tel", maxLength: 40, autoComplete: "off" }}
              value={draft.phone}
              onValue={(text) => set({ phone: text })}
            />
          )}
          <SelectField
            label={words.channel}
            options={channels.map((v) => ({ value: v, label: words.channels[v] }))}
            value={draft.channel}
            onValue={(channel) => channel && set({ channel })}
          />
        </div>
        <div class="call-said">
          <TextArea
            label={words.said}
            rows={2}
            maxLength={longest}
            value={draft.said}
            onValue={(text) => set({ said: text })}
            error={wrong.said && words.wrong.said}
          />
        </div>
        {farmId && <SignField farm={farm} draft={draft} set={set} />}
        <TextArea
          label={words.advice}
          optional
          rows={2}
          maxLength={longest}
          value={draft.advice}
          onValue={(advice) => set({ advice })}
        />
        <OutcomeFields farm={farm} tickets={tickets} draft={draft} set={set} wrong={wrong} />
        <KeptPromises promises={promises} draft={draft} set={set} />
        {farm && <Promises farm={farm} draft={draft} set={set} wrong={wrong} />}
        {error !== null && <Trouble error={error} texts={words.problems} />}
      </div>
      <p class="move-end">
        <SendKey label={words.send} busy={busy} send={() => void submit()} />
        <CallClock draft={draft} begin={beginCall} />
        {!isBlank(draft) && (
          <Button kind="quiet" onClick={cutOff}>
            {words.cutOff} <kbd>Shift F7</kbd>
          </Button>
        )}
        {wrong.why && <span class="field-error">{words.card.whyNeeded}</span>}
        <span class="field-hint">{words.kept}</span>
      </p>
    </form>
  );
}

/** What the parts of the form share. */
export interface PartProps {
  farm: FarmPage | undefined;
  draft: Draft;
  set: (more: Partial<Draft>) => void;
}

function Restored({ draft, farm, clear }: { draft: Draft; farm: FarmPage | undefined; clear: () => void }) {
  const words = deskWords().call;
  const zone = farm && zoneOf(farm.branch_id);
  return (
    <p class="restored">
      {words.restored(formats().dateTime(draft.startedAt, zone))}{" "}
      <Button kind="quiet" onClick={clear}>
        {words.discard}
      </Button>
    </p>
  );
}

function Who({ farm, draft, set }: PartProps & { farm: FarmPage }) {
  const words = deskWords().call;
  const people = farm.people.map((p) => ({ value: p.person_id, label: p.name }));
  return (
    <SelectField
      label={words.who}
      options={[
        ...people,
        { value: "client", label: `${farm.owner.name} (${words.client})` },
        { value: "", label: words.someoneElse },
      ]}
      value={draft.who as ""}
      onValue={(who) => set({ who })}
    />
  );
}

function OutcomeFields({
  farm,
  tickets,
  draft,
  set,
  wrong,
}: PartProps & { tickets: readonly TicketLine[]; wrong: Wrong }) {
  const words = deskWords().call;
  const possible = outcomes.filter((v) => v !== "about" || tickets.length > 0);
  // A ticket is about a farm.
  if (draft.farmId === "") return null;
  return (
    <>
      <div class="outcomes">
        <Choice<Outcome>
          label={words.outcome}
          options={possible.map((v) => ({ value: v, label: words.outcomes[v] }))}
          value={draft.outcome}
          onValue={(outcome) => set({ outcome })}
          error={wrong.farm && words.wrong.farm}
        />
      </div>
      {draft.outcome === "ticket" && (
        <>
          <div class="side-by-side wide-first">
            <TextField
              label={words.what}
              input={{ maxLength: 500, autoComplete: "off" }}
              value={draft.title}
              onValue={(title) => set({ title })}
              error={wrong.title && words.wrong.title}
            />
            {farm && farm.units.length > 0 && <Unit farm={farm} draft={draft} set={set} />}
          </div>
          <JudgeRow value={draft} onValue={set} />
        </>
      )}
      {draft.outcome === "about" && (
        <SelectField
          label={words.which}
          hint={words.aboutHint}
          blank={deskWords().ticket.form.choose}
          options={tickets.map((t) => ({ value: t.id, label: `${t.number}: ${titleOf(t)}` }))}
          value={draft.ticketId as ""}
          onValue={(ticketId) => set({ ticketId })}
          error={wrong.ticketId && words.wrong.ticketId}
        />
      )}
      {draft.outcome === "settled" && (
        <TextField
          label={words.answer}
          hint={words.answerHint}
          optional
          input={{ maxLength: 500, autoComplete: "off" }}
          value={draft.answer}
          onValue={(answer) => set({ answer })}
          error={wrong.answer && words.wrong.answer}
        />
      )}
    </>
  );
}

function Unit({ farm, draft, set }: PartProps & { farm: FarmPage }) {
  const words = deskWords().call;
  return (
    <SelectField
      label={words.unit}
      options={[
        { value: "", label: words.wholeFarm },
        ...farm.units.map((u) => ({ value: u.id, label: u.name })),
      ]}
      value={draft.unitId as ""}
      onValue={(unitId) => set({ unitId })}
    />
  );
}
