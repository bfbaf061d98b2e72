import type { Thread } from "../../../api/types";
import { formatsOf } from "../../../i18n/format";
import { dayOf, isoOf } from "../../../time/day";
import { instant, instantAt } from "../queue/due";
import type { Move } from "./moves";
import type { Impact, Judgement, TimeToLoss } from "./urgency";

/** Values are what the form of a move asks for; each move uses its own few. */
export interface Values extends Judgement {
  /** Why, what for, what they should know: the text beside a move. */
  note: string;
  waitingOn: string;
  outcome: string;
  learned: string;
  to: string;
  into: string;
  date: string;
  time: string;
  /** The message goes to the caretaker as a text too. */
  byText: boolean;
}

/** valuesFor begins the form of a move with what stands on the ticket. */
export function valuesFor(ticket: Thread, now: Date, zone?: string): Values {
  const plan = instant(ticket.plan_by);
  const start = plan && plan > now ? plan : new Date(now.getTime() + 86_400_000);
  return {
    impact: ticket.impact as Impact,
    timeToLoss: ticket.time_to_loss as TimeToLoss,
    danger: ticket.urgency === "person-in-danger",
    note: "",
    waitingOn: "",
    outcome: "",
    learned: "",
    to: "",
    into: "",
    date: isoOf(dayOf(start, zone)),
    time: formatsOf("en").time(start, zone),
    byText: false,
  };
}

/** differs says whether a judgement is another than the one that stands: then it needs a reason. */
export function differs(ticket: Thread, values: Judgement): boolean {
  return (
    values.impact !== ticket.impact ||
    values.timeToLoss !== ticket.time_to_loss ||
    values.danger !== (ticket.urgency === "person-in-danger")
  );
}

/** The fields that a move cannot do without. */
export type Wrong = Partial<Record<"note" | "waitingOn" | "outcome" | "to" | "into" | "date", "required">>;

/** wrongOf finds what is missing before a move is sent. */
export function wrongOf(move: Move, ticket: Thread, values: Values, zone?: string): Wrong {
  const empty = (text: string) => text.trim() === "";
  const missing = (field: keyof Wrong, so: boolean): Wrong => (so ? { [field]: "required" } : {});
  switch (move) {
    case "assess":
      return missing("note", differs(ticket, values) && empty(values.note));
    case "wait":
      return missing("waitingOn", values.waitingOn === "");
    case "settle":
      return missing("outcome", empty(values.outcome));
    case "hand-over":
      return missing("to", values.to === "");
    case "join":
      return missing("into", values.into === "");
    case "due":
      return {
        ...missing("date", instantAt(values.date, values.time, zone) === null),
        ...missing("note", empty(values.note)),
      };
    case "ask":
      return { ...missing("date", values.date === ""), ...missing("note", empty(values.note)) };
    case "reopen":
    case "note":
    case "message":
      return missing("note", empty(values.note));
    default:
      return {};
  }
}

/** textsOf are the words that a person typed into a form, for showing them again. */
export function textsOf(values: Values): string[] {
  return [values.outcome, values.note, values.learned].map((t) => t.trim()).filter(Boolean);
}
