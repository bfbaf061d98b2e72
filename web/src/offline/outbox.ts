import { computed, signal } from "@preact/signals";
import { Problem } from "../api/problem";
import { person, withSession } from "../api/session";
import { send } from "../api/transport";
import { db } from "./db";
import type { Entry } from "./entry";
import { pageOf, type Receipt, received, syncPath } from "./page";
import { uuidv7 } from "./uuid";

const retryEvery = 30_000;
const sentIsShownFor = 7 * 86_400_000;

const all = signal<readonly Entry[]>([]);
/** underWay is the id of the entry that is being sent this moment. */
export const underWay = signal<string | null>(null);
/** waitsForSignIn says that entries are kept because nobody is signed in. */
export const waitsForSignIn = signal(false);

/** entries are those of the person signed in, oldest first, those lately sent included. */
export const entries = computed(() => all.value.filter((e) => e.person === person.value?.id));
/** unsent counts what waits to go. */
export const unsent = computed(() => entries.value.filter((e) => e.state === "kept").length);
/** needing counts what the server refused and the person has to look at. */
export const needing = computed(() => entries.value.filter((e) => e.state === "needs-you").length);

async function reload(): Promise<void> {
  all.value = await (await db()).getAll("outbox");
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
export async function keep({ path, body, what, method = "POST", id = uuidv7() }: ToKeep): Promise<Entry> {
  const owner = person.peek();
  if (!owner) throw new Problem(401, "signed-out", "Sign in, then save again.");
  const entry: Entry = {
    id,
    person: owner.id,
    at: new Date().toISOString(),
    method,
    path,
    body,
    what,
    state: "kept",
  };
  const tx = (await db()).transaction("outbox", "readwrite", { durability: "strict" });
  const [seq] = await Promise.all([tx.store.add(entry), tx.done]);
  await reload();
  flush().catch(() => undefined);
  return { ...entry, seq };
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
  let seq = 0;
  for (let first = waitingAfter(seq)[0]; first; first = waitingAfter(seq)[0]) {
    const page = pageOf(waitingAfter(seq));
    underWay.value = first.id;
    const goOn = await (page.length > 0 ? sendPage(page) : sendOne(first)).finally(() => {
      underWay.value = null;
    });
    await reload();
    if (!goOn) return;
    seq = (page[page.length - 1] ?? first).seq ?? 0;
  }
}

function waitingAfter(seq: number): Entry[] {
  return entries.peek().filter((e) => e.state === "kept" && (e.seq ?? 0) > seq);
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
        send<{ receipts: Receipt[] }>("POST", syncPath, { body, headers: auth }),
      );
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

async function write(entry: Entry): Promise<void> {
  await (await db()).put("outbox", entry);
}

/** again puts a refused entry back among those to send, changed if the person changed it. */
export async function again(entry: Entry, body: unknown = entry.body): Promise<void> {
  const { problem: _, ...rest } = entry;
  // Another content under the same key would be answered with the old refusal.
  const id = body === entry.body ? entry.id : uuidv7();
  await write({ ...rest, id, body, state: "kept" });
  await flush();
}

/** discard throws a refused entry away; only its person may want that. */
export async function discard(entry: Entry): Promise<void> {
  if (entry.seq !== undefined) await (await db()).delete("outbox", entry.seq);
  await reload();
}

async function forgetOldSent(): Promise<void> {
  const store = await db();
  const before = new Date(Date.now() - sentIsShownFor).toISOString();
  for (const entry of all.peek()) {
    if (entry.state === "sent" && (entry.sentAt ?? "") < before && entry.seq) {
      await store.delete("outbox", entry.seq);
    }
  }
}

/** startSending sends at start, when the network or the page comes back, and every 30 s while something waits. */
export function startSending(): () => void {
  const go = () => void flush().catch(() => undefined);
  const whenSeen = () => document.visibilityState === "visible" && go();
  const timer = setInterval(() => unsent.peek() > 0 && go(), retryEvery);
  window.addEventListener("online", go);
  document.addEventListener("visibilitychange", whenSeen);
  void reload().then(forgetOldSent).then(go, go);
  return () => {
    clearInterval(timer);
    window.removeEventListener("online", go);
    document.removeEventListener("visibilitychange", whenSeen);
  };
}
