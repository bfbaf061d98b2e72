import type { Thread } from "../../../api/types";
import type { FarmMessages } from "../../../farm/en";
import type { DeskMessages } from "../en";

type TicketEvent = Thread["events"][number];

/** A Told is one line of a thread: who did what, the words that go with it, and who reads those. */
export interface Told {
  what: string;
  text: string;
  /** inside: staff alone; to-farm, from-farm: a word between the two; plain: no words of anybody. */
  reach: "inside" | "to-farm" | "from-farm" | "plain";
}

/** What turning an event into words needs to know. */
export interface Telling {
  words: DeskMessages["ticket"]["thread"];
  firm: FarmMessages;
  origin: string;
  nameOf: (id: string) => string;
  isStaff: (id: string) => boolean;
  timeOf: (instant: string) => string;
}

/**
 * tellEvent puts an event into words. The farm reads messages and what was
 * first reported; every other text stays inside the firm (server/app/tickets.go).
 */
export function tellEvent(event: TicketEvent, telling: Telling): Told {
  const { words, nameOf } = telling;
  const who = event.person_id ? nameOf(event.person_id) || words.someone : words.sweep;
  const what = whatOf(event, who, telling);
  const text = event.kind === "opened" || event.kind === "joined" ? "" : event.text;
  if (event.kind === "message") {
    return { what, text, reach: telling.isStaff(event.person_id) ? "to-farm" : "from-farm" };
  }
  if (event.kind === "asked" || event.kind === "taken-back") return { what, text, reach: "to-farm" };
  if (event.kind === "answered") return { what, text, reach: text ? "from-farm" : "plain" };
  const learned = said(event, "learned");
  const all = [text, learned && words.learned(learned)].filter(Boolean).join("\n");
  return { what, text: all, reach: all ? "inside" : "plain" };
}

function whatOf(event: TicketEvent, who: string, telling: Telling): string {
  const { words, firm, nameOf, timeOf } = telling;
  const urgency = (name: string) => (firm.urgency as Record<string, string>)[said(event, name)] ?? "";
  switch (event.kind) {
    case "opened":
      return (words.opened[said(event, "origin") || telling.origin] ?? words.reopened)(who);
    case "moved":
      return movedTo(event, who, telling);
    case "judged":
      return said(event, "was")
        ? words.reassessed(who, urgency("urgency"), urgency("was"))
        : words.assessed(who, urgency("urgency"));
    case "note":
      return words.note(who);
    case "message":
      return words.message(who);
    case "asked":
      return words.asked(who, said(event, "due_on"));
    case "answered": {
      const [what, why] = [said(event, "asked"), said(event, "reason")];
      return event.data?.done === true
        ? words.answered(who, what)
        : words.couldNot(who, what, words.reasons[why] ?? why);
    }
    case "taken-back":
      return words.takenBack(who);
    case "worse":
      return words.worse();
    case "gone":
      return words.gone();
    case "returned":
      return words.returned();
    case "reopened":
      return words.reopened(who);
    case "joined":
      return words.joined(who, said(event, "number"));
    case "handed-over":
      return words.handedOver(who, nameOf(said(event, "holder")) || words.someone);
    case "due-moved":
      return words.dueMoved(who, timeOf(said(event, "plan_by")));
    case "linked":
      return (event.data?.off ? words.unlinked : words.linked)(who, said(event, "number"));
    case "untouched":
      return words.untouched();
    default:
      return `${who}: ${event.kind}`;
  }
}

function movedTo(event: TicketEvent, who: string, { words, firm }: Telling): string {
  switch (event.to) {
    case "in-hand":
      return words.taken(who);
    case "waiting": {
      const on = said(event, "waiting_on");
      return words.waiting(who, (firm.waitingOn as Record<string, string>)[on] ?? firm.state.waiting);
    }
    case "settled":
      return said(event, "outcome") === "condition-gone" ? words.settledBySweep() : words.settled(who);
    case "assessed":
      if (event.from === "in-hand") return words.givenBack(who);
      return words.assessed(who, (firm.urgency as Record<string, string>)[said(event, "urgency")] ?? "");
    default:
      return `${who}: ${event.to}`;
  }
}

function said(event: TicketEvent, name: string): string {
  const value = event.data?.[name];
  return typeof value === "string" ? value : "";
}
