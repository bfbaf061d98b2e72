import { effect, signal } from "@preact/signals";
import type { components } from "../../api/api.gen";
import { Problem } from "../../api/problem";
import { person, withSession } from "../../api/session";
import { send } from "../../api/transport";
import { type Language, language } from "../../i18n/language";
import { keepNumbers } from "../../lock/numbers";
import { recall, remember } from "../../offline/kept";
import { flush, unsent } from "../../offline/outbox";
import type { BookPack } from "./compose";

type Schemas = components["schemas"];
export type TodayPage = Schemas["TodayPage"];
export type TodayModule = Schemas["TodayModule"];
export type TodayReport = Schemas["TodayReport"];
export type TodayPromise = Schemas["TodayPromise"];
export type TodayRequest = Schemas["TodayRequest"];
export type FirstSteps = Schemas["FirstSteps"];

interface Answered<Body> {
  body: Body;
  etag: string | null;
  language: Language;
}

/** A Held is an answer that stays on the phone: the last one is there before any network is. */
export interface Held<Body> {
  /** null before anything was ever brought. */
  value: Body | null;
  /** When the server last said that it is so. */
  at: Date | null;
  busy: boolean;
  error: unknown;
}

/** A Keeper brings one answer and keeps it for the days without network. */
export interface Keeper<Body> {
  /** now is what is known; reading it in a component follows it. */
  now(): Held<Body>;
  bring(): Promise<void>;
}

/**
 * keeper makes a Keeper for one address. An answer that has not changed is
 * asked for by its ETag and costs no body.
 */
export function keeper<Body>(path: string): Keeper<Body> {
  const nothing: Held<Body> = { value: null, at: null, busy: false, error: null };
  const held = signal<Held<Body> & { owner: string }>({ ...nothing, owner: "" });
  let last: Answered<Body> | null = null;

  const lookUp = async (owner: string) => {
    if (held.peek().owner === owner) return;
    last = null;
    const kept = await recall<Answered<Body>>(path).catch(() => undefined);
    if (person.peek()?.id !== owner) return;
    last = kept?.body ?? null;
    held.value = { ...nothing, owner, value: last?.body ?? null, at: kept?.at ?? null };
  };
  const ask = async (): Promise<Answered<Body>> => {
    const wanted = language.peek();
    const known = last?.language === wanted ? last : null;
    const tag: Record<string, string> = known?.etag ? { "If-None-Match": known.etag } : {};
    try {
      const answer = await withSession((auth) =>
        send<Body>("GET", path, { query: { lang: wanted }, headers: { ...auth, ...tag } }),
      );
      return { body: answer.body, etag: answer.etag, language: wanted };
    } catch (error) {
      if (known && error instanceof Problem && error.status === 304) return known;
      throw error;
    }
  };
  let turn = 0;
  const bring = async () => {
    const owner = person.peek()?.id;
    if (!owner) return;
    const mine = ++turn;
    const late = () => mine !== turn || person.peek()?.id !== owner;
    await lookUp(owner);
    held.value = { ...held.peek(), busy: true };
    try {
      const answer = await ask();
      if (late()) return; // a newer question was asked since
      last = answer;
      await remember(path, answer);
      held.value = { value: answer.body, at: new Date(), busy: false, error: null, owner };
    } catch (error) {
      if (!late()) held.value = { ...held.peek(), busy: false, error };
    }
  };
  return {
    now: () => (held.value.owner === person.value?.id ? held.value : nothing),
    bring,
  };
}

/** today is what the server worked out for this caretaker. */
export const today = keeper<TodayPage>("/api/today");

/** cards are the first-steps cards of the enterprises on the own farms. */
export const cards = keeper<{ items: FirstSteps[]; language: string }>("/api/first-steps");

/** book is what the packs say of the day: Today names its things by key. */
export const book = keeper<{ packs: BookPack[]; language: string }>("/api/book");

const chosenKey = "tendfold.farm";

/** chosen is the farm that the screens are about; the first one where none was chosen. */
export const chosen = signal(globalThis.localStorage?.getItem(chosenKey) ?? "");

/** choose goes over to another farm. */
export function choose(farm: string): void {
  chosen.value = farm;
  localStorage.setItem(chosenKey, farm);
}

/**
 * follow keeps the day fresh: at once, when the language changes, when all
 * entries have gone, when the phone is taken out of the pocket or has network
 * again. It answers how to stop.
 */
export function follow(): () => void {
  const bring = () => void today.bring();
  let waited = unsent.peek();
  const stop = effect(() => {
    const waiting = unsent.value;
    if (waited > 0 && waiting === 0) bring();
    waited = waiting;
  });
  const stopLanguage = effect(() => {
    language.value;
    bring();
    void cards.bring();
    void book.bring();
  });
  import("./later/use").then((m) => m.count()).catch(() => undefined);
  // Whom to call must be known when nobody can open the phone.
  const stopNumbers = effect(() => keepNumbers(today.now().value?.farms.flatMap((f) => f.advisors) ?? []));
  // What waits to go changes the day: it is asked for once, after that.
  const afterSending = async () => {
    if (unsent.peek() === 0) return bring();
    await flush().catch(() => undefined);
    if (unsent.peek() > 0) bring();
  };
  const whenSeen = () => document.visibilityState === "visible" && void afterSending();
  document.addEventListener("visibilitychange", whenSeen);
  window.addEventListener("online", afterSending);
  return () => {
    stop();
    stopLanguage();
    stopNumbers();
    document.removeEventListener("visibilitychange", whenSeen);
    window.removeEventListener("online", afterSending);
  };
}
