import type { Thread, TicketLine } from "../../../api/types";
import { SelectField } from "../../../ui/choice";
import { DateField } from "../../../ui/date-field";
import { Field, TextArea } from "../../../ui/field";
import { colleaguesOf, firm } from "../firm";
import { deskWords } from "../words";
import { Judge } from "./judge";
import { joinable, type Move } from "./moves";
import { titleOf } from "./title";
import { differs, type Values, type Wrong } from "./values";

/** What the fields of a move get. */
export interface FieldsProps {
  ticket: Thread;
  others: readonly TicketLine[];
  values: Values;
  wrong: Wrong;
  set: (more: Partial<Values>) => void;
}

const longest = 2000;
const waits = ["farm", "supplier", "electrician", "vet", "us"] as const;

/** MoveFields are the few fields that a move asks for. */
export function MoveFields({ move, ...props }: FieldsProps & { move: Move }) {
  const { ticket, values, set } = props;
  const words = deskWords().ticket.form;
  switch (move) {
    case "assess":
      return (
        <>
          <Judge value={values} onValue={set} />
          <Note
            {...props}
            label={differs(ticket, values) ? words.why : words.whySame}
            optional={!differs(ticket, values)}
          />
        </>
      );
    case "wait":
      return (
        <>
          <SelectField
            label={words.waitingOn}
            blank={words.choose}
            options={waits.map((v) => ({ value: v, label: words.waitingFor[v] }))}
            value={values.waitingOn as ""}
            onValue={(waitingOn) => set({ waitingOn })}
            error={told(props.wrong.waitingOn)}
          />
          <Note {...props} label={words.waitNote} optional />
        </>
      );
    case "settle":
      return <SettleFields {...props} />;
    case "hand-over":
      return <HandOverFields {...props} />;
    case "due":
      return <DueFields {...props} />;
    case "join":
      return (
        <SelectField
          label={words.into}
          blank={words.choose}
          options={joinable(ticket, props.others).map((t) => ({
            value: t.id,
            label: `${t.number}: ${titleOf(t)}`,
          }))}
          value={values.into as ""}
          onValue={(into) => set({ into })}
          error={told(props.wrong.into)}
        />
      );
    case "give-back":
      return <Note {...props} label={words.note} optional />;
    case "reopen":
      return <Note {...props} label={words.reopenWhy} />;
    case "note":
      return <Note {...props} label={words.text} hint={words.textHint} />;
    case "message":
      return (
        <>
          <Note {...props} label={words.messageText} hint={words.messageHint} />
          <label class="check">
            <input
              type="checkbox"
              checked={values.byText}
              onChange={(event) => set({ byText: event.currentTarget.checked })}
            />{" "}
            {words.byText}
          </label>
        </>
      );
    case "ask":
      return (
        <>
          <Note {...props} label={words.askText} hint={words.askHint} />
          <DateField
            label={words.askDue}
            value={values.date}
            onValue={(date) => set({ date })}
            error={told(props.wrong.date)}
          />
        </>
      );
    default:
      return null;
  }
}

function told(wrong: "required" | undefined): string | undefined {
  return wrong && deskWords().ticket.problems[wrong];
}

function Note({
  values,
  wrong,
  set,
  label,
  hint,
  optional,
}: FieldsProps & { label: string; hint?: string; optional?: boolean }) {
  return (
    <TextArea
      label={label}
      hint={hint}
      optional={optional}
      rows={2}
      maxLength={longest}
      value={values.note}
      onValue={(note) => set({ note })}
      error={told(wrong.note)}
    />
  );
}

function SettleFields({ ticket, values, wrong, set }: FieldsProps) {
  const words = deskWords().ticket.form;
  return (
    <>
      <TextArea
        label={words.outcome}
        hint={ticket.rule && !ticket.gone_on ? words.rests : undefined}
        rows={2}
        maxLength={longest}
        value={values.outcome}
        onValue={(outcome) => set({ outcome })}
        error={told(wrong.outcome)}
      />
      <TextArea
        label={words.learned}
        hint={words.learnedHint}
        optional
        rows={2}
        maxLength={longest}
        value={values.learned}
        onValue={(learned) => set({ learned })}
      />
    </>
  );
}

function HandOverFields(props: FieldsProps) {
  const { ticket, values, wrong, set } = props;
  const words = deskWords().ticket.form;
  const colleagues = colleaguesOf(ticket.branch_id, firm.value.staff).filter(
    (p) => p.id !== ticket.holder_id,
  );
  return (
    <>
      <SelectField
        label={words.to}
        blank={words.choose}
        options={colleagues.map((p) => ({ value: p.id, label: p.name }))}
        value={values.to as ""}
        onValue={(to) => set({ to })}
        error={told(wrong.to)}
      />
      <Note {...props} label={words.handNote} optional />
    </>
  );
}

function DueFields(props: FieldsProps) {
  const { values, wrong, set } = props;
  const words = deskWords().ticket.form;
  return (
    <>
      <div class="side-by-side">
        <DateField
          label={words.date}
          value={values.date}
          onValue={(date) => set({ date })}
          error={told(wrong.date)}
        />
        <Field label={words.time}>
          {(control) => (
            <input
              {...control}
              type="time"
              value={values.time}
              onInput={(event) => set({ time: event.currentTarget.value })}
            />
          )}
        </Field>
      </div>
      <Note {...props} label={words.dueWhy} />
    </>
  );
}
