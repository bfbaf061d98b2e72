import { Problem } from "../api/problem";
import { db } from "./db";
import type { Entry, SealedEntry } from "./entry";

/** Rows are what the disk holds: all entries, and those sealed whose readable twin is gone. */
export interface Rows {
  entries: Entry[];
  shut: SealedEntry[];
}

/** readRows reads the outbox, whoever's its entries are. */
export async function readRows(): Promise<Rows> {
  const tx = (await db()).transaction(["outbox", "sealed"]);
  const entries = await tx.objectStore("outbox").getAll();
  const open = new Set(entries.map((e) => e.id));
  const alone = (await tx.objectStore("sealed").getAllKeys()).filter((id) => !open.has(id));
  const found = await Promise.all(alone.map((id) => tx.objectStore("sealed").get(id)));
  return { entries, shut: found.filter((e): e is SealedEntry => e !== undefined) };
}

/** add writes a new entry and its sealed twin, both or neither, and answers the entry's place. */
export async function add(entry: Entry, twin: SealedEntry | undefined): Promise<number> {
  const tx = (await db()).transaction(["outbox", "sealed"], "readwrite", { durability: "strict" });
  const put = twin && tx.objectStore("sealed").put(twin);
  const [seq] = await Promise.all([tx.objectStore("outbox").add(entry), put, tx.done]);
  return seq;
}

/** write changes an entry. What has arrived needs its sealed twin no longer. */
export async function write(entry: Entry): Promise<void> {
  const tx = (await db()).transaction(["outbox", "sealed"], "readwrite");
  const drop = entry.state === "sent" ? tx.objectStore("sealed").delete(entry.id) : undefined;
  await Promise.all([tx.objectStore("outbox").put(entry), drop, tx.done]);
}

/** replace puts a changed entry under a new name in the place of the old one. */
export async function replace(old: Entry, entry: Entry, twin: SealedEntry | undefined): Promise<void> {
  const tx = (await db()).transaction(["outbox", "sealed"], "readwrite", { durability: "strict" });
  const sealed = tx.objectStore("sealed");
  const put = twin && sealed.put(twin);
  await Promise.all([sealed.delete(old.id), tx.objectStore("outbox").put(entry), put, tx.done]);
}

/** remove takes an entry off the device, open or sealed, with the photos and voice notes that belong to it. */
export async function remove(entry: { id: string; seq?: number }): Promise<void> {
  const tx = (await db()).transaction(["outbox", "sealed", "media"], "readwrite");
  const open = entry.seq === undefined ? undefined : tx.objectStore("outbox").delete(entry.seq);
  const media = tx.objectStore("media");
  const its = (await media.getAll()).filter((m) => m.entry === entry.id);
  const gone = its.map((m) => media.delete(m.id));
  await Promise.all([tx.objectStore("sealed").delete(entry.id), open, ...gone, tx.done]);
}

/** forgetSent takes off what was sent before an instant; the firm has it. */
export async function forgetSent(before: Date = new Date()): Promise<void> {
  const store = await db();
  for (const entry of await store.getAll("outbox")) {
    if (entry.state === "sent" && (entry.sentAt ?? "") < before.toISOString() && entry.seq) {
      await store.delete("outbox", entry.seq);
    }
  }
}

/**
 * withRoom does a piece of writing, and once more without what was sent
 * already when the disk is full. It fails with words that say so.
 */
export async function withRoom<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (!isFull(error)) throw error;
  }
  await forgetSent();
  try {
    return await work();
  } catch (error) {
    if (!isFull(error)) throw error;
    throw new Problem(507, "storage-full", "The phone has no room left.");
  }
}

function isFull(error: unknown): boolean {
  return error instanceof DOMException && error.name === "QuotaExceededError";
}
