import { effect, signal } from "@preact/signals";
import { Problem } from "../api/problem";
import { person, withSession } from "../api/session";
import { send } from "../api/transport";
import { entries, unsent } from "../offline/outbox";
import type { Medium } from "./medium";
import { allowed, connection, mayGoNow, onWifiNow } from "./network";
import { settle, waiting, write } from "./store";
import { spend } from "./used";

const retryEvery = 30_000;
const firstRetry = 3_000;
const part = 32 * 1024;

/** underWay is what is being sent this moment, and how many bytes of it have gone. */
export const underWay = signal<{ id: string; gone: number } | null>(null);

interface Upload {
  state: "coming" | "kept" | "refused";
  received: number;
  why?: string;
}

let waits: Promise<void> | null = null;

/**
 * flush sends what may go: after all words, over the network that the person
 * allows, one at a time and in one tab at a time.
 */
export function flush(): Promise<void> {
  waits ??= inTurn();
  return waits;
}

// What is kept while others are being sent asks for a turn of its own: this
// turn may have looked past it already.
async function inTurn(): Promise<void> {
  try {
    await navigator.locks.request("tendfold.media", () => {
      waits = null;
      return sendAll();
    });
  } catch (error) {
    waits = null;
    throw error;
  }
}

async function sendAll(): Promise<void> {
  await settle();
  for (let next = first(); next; next = first()) {
    const goOn = await sendOne(next).finally(() => {
      underWay.value = null;
    });
    if (!goOn) return soon();
    failures = 0;
  }
}

// One lost answer is tried again before the person has put the phone away;
// a network that stays away costs little battery.
let failures = 0;

function soon(): void {
  const wait = Math.min(retryEvery, firstRetry * 2 ** failures++);
  setTimeout(() => void flush().catch(() => undefined), wait);
}

// Words go before pictures: an entry that waits, or that the server refused,
// holds its own back; one that is no longer listed went long ago.
function first(): Medium | undefined {
  if (!person.peek() || unsent.peek() > 0 || mayGoNow() !== "yes") return undefined;
  return waiting.peek().find((m) => {
    const entry = entries.peek().find((e) => e.id === m.entry);
    return !entry || entry.state === "sent";
  });
}

// A problem that passes, or one of signing in, leaves everything as it is.
async function sendOne(medium: Medium): Promise<boolean> {
  try {
    const end = await bring(medium);
    const over = { ...medium, bytes: new Uint8Array(0) };
    await write(
      end.state === "kept"
        ? { ...over, state: "sent", sentAt: new Date().toISOString() }
        : { ...medium, state: "needs-you", why: end.why ?? "" },
    );
    return true;
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    if (error.passing || error.status === 401) return false;
    await write({ ...medium, state: "needs-you", why: error.code });
    return true;
  }
}

async function bring(medium: Medium): Promise<Upload> {
  const { id, farm, entry, kind, size, sha256, taken, bytes } = medium;
  const body = { id, farm_id: farm, entry_id: entry, kind, size, sha256, ...(taken ? { taken } : {}) };
  let restarts = 0;
  let up = await ask("POST", "/api/media", body);
  while (up.state === "coming") {
    underWay.value = { id, gone: up.received };
    try {
      if (up.received >= size) return await ask("POST", `/api/media/${id}/finish`);
      const piece = new Blob([bytes.slice(up.received, up.received + part)], {
        type: "application/octet-stream",
      });
      // Counted as it leaves: it costs the same when the answer is lost.
      spend(piece.size);
      up = await ask("PUT", `/api/media/${id}/parts?offset=${up.received}`, piece);
    } catch (error) {
      const at = goOnFrom(error);
      // A byte that changed on the way: once more from the start, then somebody has to look.
      if (at === undefined || (at === 0 && restarts++ > 0)) throw error;
      up = { state: "coming", received: at };
    }
  }
  return up;
}

async function ask(method: "POST" | "PUT", path: string, body?: unknown): Promise<Upload> {
  return (await withSession((auth) => send<Upload>(method, path, { body, headers: auth }))).body;
}

/** goOnFrom is where the server wants the sending to go on, undefined where it is another problem. */
export function goOnFrom(error: unknown): number | undefined {
  if (!(error instanceof Problem)) return undefined;
  if (error.code === "media-hash") return 0;
  if (error.code !== "media-offset") return undefined;
  const at = Number(error.fields[0]?.text);
  return Number.isInteger(at) && at >= 0 ? at : undefined;
}

/** again puts one that was refused back among those to send. */
export async function again(medium: Medium): Promise<void> {
  const { why: _, ...rest } = medium;
  await write({ ...rest, state: "kept" });
  await flush();
}

let started = false;

/** start sends whenever the words have gone, and when the network, the choice or the page changes. */
export function start(): void {
  if (started) return;
  started = true;
  const go = () => void flush().catch(() => undefined);
  effect(() => {
    const ready = person.value !== null && unsent.value === 0;
    // What they depend on; an entry that has just been kept may name a photo.
    void [entries.value.length, allowed.value, onWifiNow.value];
    if (ready) go();
    else void settle().catch(() => undefined);
  });
  setInterval(() => waiting.peek().length > 0 && go(), retryEvery);
  window.addEventListener("online", go);
  connection()?.addEventListener("change", go);
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && go());
}
