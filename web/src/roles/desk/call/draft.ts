import type { Pack } from "../../../api/types";
import type { Language } from "../../../i18n/language";
import { uuidv7 } from "../../../offline/uuid";
import { isoOf } from "../../../time/day";
import type { Impact, TimeToLoss } from "../ticket/urgency";
import type { Given } from "./card/walk";

/** How people reach the desk. */
export const channels = ["phone", "text", "chat", "in-person"] as const;
export type Channel = (typeof channels)[number];

/** What becomes of a call: it is only noted, it opens a ticket, it was a question that is answered, or it is said on a ticket that is open. */
export const outcomes = ["noted", "ticket", "settled", "about"] as const;
export type Outcome = (typeof outcomes)[number];

/** What can be promised on a call. */
export const promiseKinds = ["call-back", "visit", "other"] as const;
export type PromiseKind = (typeof promiseKinds)[number];

/** A PromiseDraft is a promise as it is being typed. */
export interface PromiseDraft {
  kind: PromiseKind;
  text: string;
  dueOn: string;
}

/** A Sign of a pack: what is seen, what to say first, and how bad it is. */
export type Sign = Pack["signs"][number];

/** A DraftCard is the triage card that is walked on this call, with what was answered so far. */
export interface DraftCard {
  enterprise: string;
  sign: string;
  version: number;
  language: Language;
  answers: Given[];
  /** Why the advisor sees it differently from the card. */
  why: string;
  /** The text message that was opened for sending. */
  text: string;
}

/** A Draft is a call note on its way: everything as typed, so that nothing is lost when the screen goes dark. */
export interface Draft {
  /** The id of the call to be, so that a note sent twice is one call. */
  id: string;
  farmId: string;
  farm: string;
  /** A person of the farm, "client", or "" for somebody else. */
  who: string;
  phone: string;
  channel: Channel;
  said: string;
  sign: string;
  advice: string;
  outcome: Outcome;
  title: string;
  unitId: string;
  impact: Impact;
  timeToLoss: TimeToLoss;
  danger: boolean;
  /** The open ticket that the call is about. */
  ticketId: string;
  /** How a question was answered. */
  answer: string;
  promises: PromiseDraft[];
  /** The promises that this call keeps. */
  keeps: string[];
  startedAt: string;
  card?: DraftCard | undefined;
  /** Whether somebody said that the call has begun: it is kept though nothing is typed yet. */
  begun?: boolean;
}

/** What is known of a call before a word of it is written. */
export interface Beginning {
  farm: { id: string; name: string };
  who: string;
  phone: string;
  said?: string;
}

/** newDraft begins a note. What a caller says in words alone may be lost within days, until somebody has judged it. */
export function newDraft({ farm, who, phone, said = "" }: Beginning, now: Date): Draft {
  return {
    id: uuidv7(),
    farmId: farm.id,
    farm: farm.name,
    who,
    phone,
    channel: "phone",
    said,
    sign: "",
    advice: "",
    outcome: "noted",
    title: "",
    unitId: "",
    impact: "middle",
    timeToLoss: "week",
    danger: false,
    ticketId: "",
    answer: "",
    promises: [],
    keeps: [],
    startedAt: now.toISOString(),
  };
}

/** isBlank says whether nothing has been typed that is worth keeping. */
export function isBlank(draft: Draft): boolean {
  const typed = draft.said + draft.advice + draft.title + draft.answer;
  if (draft.begun || draft.card) return false;
  return typed.trim() === "" && draft.promises.every((p) => p.text.trim() === "");
}

/** withSign takes what the sign says: how bad it is, and its words as the ticket's title where none was typed. */
export function withSign(
  draft: Draft,
  sign: Sign | undefined,
  say: (sign: Sign) => string,
  old?: Sign,
): Draft {
  const own = draft.title !== "" && draft.title !== (old ? say(old) : "");
  if (!sign) return { ...draft, sign: "", title: own ? draft.title : "", card: undefined };
  return {
    ...draft,
    card: undefined,
    sign: sign.key,
    title: own ? draft.title : say(sign),
    impact: sign.impact as Impact,
    timeToLoss: sign.time_to_loss as TimeToLoss,
    danger: sign.danger,
    outcome: draft.outcome === "noted" ? "ticket" : draft.outcome,
  };
}

/** The fields of a draft that can be wrong; a promise's by its place. */
export type Wrong = Partial<
  Record<
    | "farm"
    | "said"
    | "title"
    | "answer"
    | "ticketId"
    | "promiseFarm"
    | "why"
    | `promise-${number}`
    | `promise-day-${number}`,
    "required" | "range"
  >
>;

const aYear = 366;

/** promiseDays are the first and the last day for which something can be promised on a day, as the server has it. */
export function promiseDays(day: number): [from: string, to: string] {
  return [isoOf(day), isoOf(day + aYear)];
}

/** wrongOf finds what is missing or cannot be before anything is sent. Tickets and promises need a farm; a call may be about none yet. */
export function wrongOf(draft: Draft, day: number): Wrong {
  const wrong: Wrong = {};
  const empty = (text: string) => text.trim() === "";
  if (empty(draft.said)) wrong.said = "required";
  if (draft.outcome !== "noted" && draft.farmId === "") wrong.farm = "required";
  if (draft.outcome === "ticket" && empty(draft.title)) wrong.title = "required";
  if (draft.outcome === "about" && draft.ticketId === "") wrong.ticketId = "required";
  if (draft.farmId === "" && draft.promises.length > 0) wrong.promiseFarm = "required";
  if (draft.outcome === "settled" && empty(draft.answer) && empty(draft.advice)) wrong.answer = "required";
  for (const [i, promise] of draft.promises.entries()) {
    if (empty(promise.text)) wrong[`promise-${i}`] = "required";
    const [from, to] = promiseDays(day);
    if (promise.dueOn < from || promise.dueOn > to) wrong[`promise-day-${i}`] = "range";
  }
  return wrong;
}
