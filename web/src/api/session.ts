import { computed, signal } from "@preact/signals";
import { Problem } from "./problem";
import { type Answer, send } from "./transport";

/** The roles of product.md, as the API names them. */
export type Role = "administrator" | "manager" | "advisor" | "field-officer" | "caretaker" | "owner";

/** Who is signed in. A grant without a branch holds in all of them. */
export interface Person {
  id: string;
  name: string;
  language: "en" | "fr";
  grants: { role: Role; branch_id: string }[];
}

interface Session {
  token: string;
  person: Person;
}

/** What sign-in, enrolment and refresh answer. */
export interface Grant {
  access_token: string;
  person: Person;
}

// The access token lives in memory alone: a script that reads storage finds
// nothing, and a closed tab has forgotten it.
const session = signal<Session | null>(null);

/** person is who is signed in here, null when nobody is. */
export const person = computed(() => session.value?.person ?? offlinePerson.value);

/** roles are those of the person signed in, without repeats. */
export const roles = computed(() => [...new Set(person.value?.grants.map((g) => g.role) ?? [])]);

/** sessionEnded says that somebody was signed in here until the server ended it: they did not leave. */
export const sessionEnded = signal(false);

// A phone that was unlocked by its PIN knows whose it is before any network.
const offlinePerson = signal<Person | null>(null);

/** workOffline names the person of an unlocked phone, who may work before the server has been reached. */
export function workOffline(who: Person | null): void {
  offlinePerson.value = who;
}

const channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("tendfold.session");
channel?.addEventListener("message", (event: MessageEvent<Session | null>) => {
  session.value = event.data;
  if (!event.data) offlinePerson.value = null;
});

function keep(next: Session | null): void {
  if (next) sessionEnded.value = false;
  session.value = next;
  channel?.postMessage(next);
}

/** begin starts the session that an answer of sign-in or enrolment grants. */
export function begin(grant: Grant): void {
  keep({ token: grant.access_token, person: grant.person });
}

/** signIn begins a session with a password, and a code where the account has one set up. */
export async function signIn(login: string, password: string, code?: string): Promise<void> {
  const body = { login, password, ...(code ? { code } : {}) };
  begin((await send<Grant>("POST", "/api/sign-in", { body })).body);
}

/** leave ends the session on this device alone: whoever has the PIN may come back. */
export function leave(): void {
  keep(null);
  offlinePerson.value = null;
}

/** signOut ends the session here and on the server; without a network it ends here at least. */
export async function signOut(): Promise<void> {
  const headers = authorization();
  leave();
  await send("POST", "/api/sign-out", { headers }).catch(() => undefined);
}

/** A Refresh brings a new grant; the phone's proves itself with its key. */
export type Refresh = () => Promise<Grant>;

let refreshWith: Refresh = async () => (await send<Grant>("POST", "/api/refresh")).body;

/** proveWith replaces the plain refresh by that of an enrolled phone. */
export function proveWith(refresh: Refresh): void {
  refreshWith = refresh;
}

/**
 * refresh gets a new access token. One tab does so at a time: another that
 * waited takes the token which the first one brought.
 */
export async function refresh(): Promise<void> {
  const stale = session.peek()?.token;
  await navigator.locks.request("tendfold.refresh", async () => {
    if (session.peek() && session.peek()?.token !== stale) return;
    try {
      begin(await refreshWith());
    } catch (error) {
      if (error instanceof Problem && error.status === 401) {
        sessionEnded.value ||= session.peek() !== null;
        keep(null);
      }
      throw error;
    }
  });
}

/**
 * resume takes up the session that the refresh cookie holds, if any, and says
 * whether somebody is signed in. No network is no answer: it says no.
 */
export async function resume(): Promise<boolean> {
  if (!session.peek()) await refresh().catch(() => undefined);
  return session.peek() !== null;
}

function authorization(): Record<string, string> {
  const token = session.peek()?.token;
  return token ? { Authorization: `Bearer ${token}` } : {};
}

/** withSession makes a request as the person signed in, and once more after a refresh when the token has run out. */
export async function withSession<B>(
  request: (headers: Record<string, string>) => Promise<Answer<B>>,
): Promise<Answer<B>> {
  if (!session.peek()) await refresh();
  try {
    return await request(authorization());
  } catch (error) {
    if (!(error instanceof Problem) || error.status !== 401) throw error;
    await refresh();
    return request(authorization());
  }
}
