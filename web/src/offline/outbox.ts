import { computed, signal } from "@preact/signals";
import { Problem } from "../api/problem";
import { person, withSession } from "../api/session";
import { send } from "../api/transport";
import { setClock, stamp } from "./clock";
import { db } from "./db";
import type { Entry, SealedEntry } from "./entry";
import { pageOf, type Receipt, received, syncPath } from "./page";
import { add, forgetSent, type Rows, readRows, remove, replace, withRoom, write } from "./rows";
import { uuidv7 } from "./uuid";

const retryEvery = 30_000;
const sentIsShownFor = 7 * 86_400_000;

/** How entries are written since the clock came into them; docs/api.md has what changed from one to the next. */
const schema = 2;

const all = signal<Rows>({ entries: [], shut: [] });
/** underWay are the ids of the entries that are being sent this moment. */
export const underWay = signal<readonly string[]>([]);
/** waitsForSignIn says that entries are kept because nobody is signed in. */
export const waitsForSignIn = signal(false);

/** entries are those of the person signed in, oldest first, those lately sent included. */
export const entries = computed(() => all.value.entries.filter((e) => e.person === person.value?.id));
/** shut are those of the person signed in that were sealed before a wipe: they can be sent, and not be read. */
export const shut = computed(() => all.value.shut.filter((e) => e.person === person.value?.id));
/** unsent counts what waits to go. */
export const unsent = computed(
  () => entries.value.filter((e) => e.state === "kept").length + shut.value.filter((e) => !e.problem).length,
);
/** needing counts what the server refused and the person has to look at. */
export const needing = computed(
  () =>
    entries.value.filter((e) => e.state === "needs-you").length + shut.value.filter((e) => e.problem).length,
);

async function reload(): Promise<void> {
  all.value = await readRows();
}

/** What makes an entry. `id` is given where the thing itself needs the same name. */
export interface ToKeep {
  path: string;
  body: unknown;
  what: string;
  method?: Entry["method"];
  id?: string;
}

/**
 * keep writes an entry to the disk and only then comes back, so that a screen
 * that says "kept" tells the truth; sending starts by itself. It fails where
 * nobody is signed in or the disk takes no more.
 */
export async function keep(asked: ToKeep): Promise<Entry> {
  const owner = person.peek();
  if (!owner) throw new Problem(401, "signed-out", "Sign in, then save again.");
  askForRoom();
  const kept = await withRoom(async () => {
    const entry = await made(asked, owner.id);
    return { ...entry, seq: await add(entry, await twinOf(entry)) };
  });
  await reload();
  flush().catch(() => undefined);
  return kept;
}

async function made(
  { path, body, what, method = "POST", id = uuidv7() }: ToKeep,
  owner: string,
): Promise<Entry> {
  return {
    id,
    person: owner,
    at: new Date().toISOString(),
    method,
    path,
    body: await stamped(path, body),
    what,
    state: "kept",
  };
}

// An entry of a farm carries when it was made, by a clock that cannot run backwards.
async function stamped(path: string, body: unknown): Promise<unknown> {
  return path === syncPath ? { ...(body as object), schema, ...(await stamp(await db())) } : body;
}

// Without its twin an entry is as good, until a wipe; so nothing here may stop it.
async function twinOf(entry: Entry): Promise<SealedEntry | undefined> {
  try {
    return await (await import("../lock/sealing")).sealed(entry);
  } catch {
    return undefined;
  }
}

let asked = false;

// The browser must not clear the outbox when the phone runs out of room. It
// agrees more readily once the person does something here.
function askForRoom(): void {
  if (asked) return;
  asked = true;
  void navigator.storage?.persist?.().catch(() => undefined);
}

let waiting: Promise<void> | null = null;

/** flush sends what is kept, one entry at a time and in one tab at a time. */
export function flush(): Promise<void> {
  waiting ??= inTurn().finally(() => {
    waiting = null;
  });
  return waiting;
}

// An entry made while others are being sent asks for a turn of its own: this
// turn may have looked past it already.
async function inTurn(): Promise<void> {
  await navigator.locks.request("tendfold.outbox", () => {
    waiting = null;
    return sendAll();
  });
}

async function sendAll(): Promise<void> {
  await reload();
  if (!(await sendShut())) return;
  let seq = 0;
  for (let first = waitingAfter(seq)[0]; first; first = waitingAfter(seq)[0]) {
    const page = pageOf(waitingAfter(seq));
    underWay.value = (page.length > 0 ? page : [first]).map((e) => e.id);
    const goOn = await (page.length > 0 ? sendPage(page) : sendOne(first)).finally(() => {
      underWay.value = [];
    });
    await reload();
    if (!goOn) return;
    seq = (page[page.length - 1] ?? first).seq ?? 0;
  }
}

function waitingAfter(seq: number): Entry[] {
  return entries.peek().filter((e) => e.state === "kept" && (e.seq ?? 0) > seq);
}

// What was sealed before a wipe is the oldest, so it goes first.
async function sendShut(): Promise<boolean> {
  const waiting = shut.peek().filter((e) => !e.problem);
  if (waiting.length === 0) return true;
  const goOn = await tried(
    async () => {
      await (await import("../lock/deliver")).deliver(waiting);
      return true;
    },
    async () => undefined,
  );
  await reload();
  return goOn;
}

// The answer of each of these says whether the next one is worth trying.
async function sendOne(entry: Entry): Promise<boolean> {
  return tried(
    async () => {
      const headers = { "Idempotency-Key": entry.id };
      await withSession((auth) =>
        send(entry.method, entry.path, { body: entry.body, headers: { ...headers, ...auth } }),
      );
      await write({ ...entry, state: "sent", sentAt: new Date().toISOString() });
      return true;
    },
    async ({ code, message: text, fields }) => {
      await write({ ...entry, state: "needs-you", problem: { code, text, fields } });
    },
  );
}

// Entries of a page name themselves, so no other key is needed: what has been
// kept before is answered so.
async function sendPage(page: readonly Entry[]): Promise<boolean> {
  return tried(
    async () => {
      const body = { sent_at: new Date().toISOString(), entries: page.map((e) => e.body) };
      const answer = await withSession((auth) =>
        send<{ receipts: Receipt[]; received_at?: string }>("POST", syncPath, {
          body,
          headers: auth,
          packed: true,
        }),
      );
      await setClock(await db(), Date.parse(answer.body.received_at ?? ""));
      const now = new Date().toISOString();
      const after = page.map((entry, i) => received(entry, answer.body.receipts[i], now));
      for (const entry of after) await write(entry);
      return after.every((entry) => entry.state !== "kept");
    },
    // A page that is refused as a whole is our fault; its entries wait for a better program.
    async () => undefined,
  );
}

// A problem that passes, or one of signing in, leaves everything as it is.
async function tried(
  work: () => Promise<boolean>,
  refused: (problem: Problem) => Promise<void>,
): Promise<boolean> {
  try {
    const goOn = await work();
    waitsForSignIn.value = false;
    return goOn;
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    if (error.passing) return false;
    if (error.status === 401) {
      waitsForSignIn.value = true;
      return false;
    }
    await refused(error);
    return true;
  }
}

/** again puts a refused entry back among those to send, changed if the person changed it. */
export async function again(entry: Entry, body: unknown = entry.body): Promise<void> {
  const { problem: _, ...rest } = entry;
  if (body === entry.body) {
    await write({ ...rest, state: "kept" });
  } else {
    // Another content under the same key would be answered with the old refusal.
    const id = uuidv7();
    const named = "id" in (body as object) ? { ...(body as object), id } : body;
    const next: Entry = { ...rest, id, body: await stamped(entry.path, named), state: "kept" };
    await withRoom(async () => replace(entry, next, await twinOf(next)));
  }
  await flush();
}

/** discard throws a refused entry away; only its person may want that. */
export async function discard(entry: { id: string; seq?: number }): Promise<void> {
  await remove(entry);
  await reload();
}

/** startSending sends at start, when the network or the page comes back, and every 30 s while something waits. */
export function startSending(): () => void {
  const go = () => void flush().catch(() => undefined);
  const whenSeen = () => document.visibilityState === "visible" && go();
  const timer = setInterval(() => unsent.peek() > 0 && go(), retryEvery);
  window.addEventListener("online", go);
  document.addEventListener("visibilitychange", whenSeen);
  void forgetSent(new Date(Date.now() - sentIsShownFor))
    .then(reload)
    .then(go, go);
  return () => {
    clearInterval(timer);
    window.removeEventListener("online", go);
    document.removeEventListener("visibilitychange", whenSeen);
  };
}
