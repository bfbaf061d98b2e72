import { computed, signal } from "@preact/signals";
import { person } from "../api/session";
import { db } from "../offline/db";
import type { Entry } from "../offline/entry";
import { withRoom } from "../offline/rows";
import { uuidv7 } from "../offline/uuid";
import type { Medium, Place } from "./medium";

const all = signal<readonly Medium[]>([]);

/** media are the photos and voice notes of the person signed in, oldest first. */
export const media = computed(() => all.value.filter((m) => m.person === person.value?.id));

/** waiting are those whose entry is kept and that have not gone. */
export const waiting = computed(() => media.value.filter((m) => m.entry !== "" && m.state === "kept"));

/** reload reads the store anew, after another tab may have changed it. */
export async function reload(): Promise<void> {
  const found = await (await db()).getAll("media");
  all.value = found.sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** write changes one. */
export async function write(medium: Medium): Promise<void> {
  await (await db()).put("media", medium);
  await reload();
}

/** remove throws one away. */
export async function remove(id: string): Promise<void> {
  await (await db()).delete("media", id);
  await reload();
}

/** What was just taken. */
export interface Taken {
  farm: string;
  slot: string;
  kind: Medium["kind"];
  type: string;
  bytes: Uint8Array<ArrayBuffer>;
  taken?: Place | undefined;
}

/**
 * draft puts what was just taken on the disk; its entry, once kept, names it
 * and takes it up. It fails with words where the disk takes no more.
 */
export async function draft({ farm, slot, kind, type, bytes, taken }: Taken): Promise<Medium> {
  const owner = person.peek();
  if (!owner) throw new Error("nobody is signed in");
  const medium: Medium = {
    id: uuidv7(),
    person: owner.id,
    farm,
    slot,
    kind,
    entry: "",
    what: "",
    type,
    bytes,
    size: bytes.length,
    sha256: await sha256(bytes),
    ...(taken ? { taken } : {}),
    at: new Date().toISOString(),
    state: "kept",
  };
  await withRoom(() => write(medium));
  return medium;
}

/** sha256 names bytes, in hexadecimal. */
export async function sha256(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(sum, (b) => b.toString(16).padStart(2, "0")).join("");
}

/** draftsOf are those of a form whose entry is not kept yet. */
export async function draftsOf(farm: string, slot: string): Promise<Medium[]> {
  await settle();
  return media.peek().filter((m) => m.entry === "" && m.farm === farm && m.slot === slot);
}

const day = 86_400_000;
const draftLife = day;
const sentIsShownFor = 7 * day;

/**
 * settle brings the store in line with the outbox: what a kept entry names
 * belongs to it, whatever happened between the two writes, and also when the
 * entry was put right under another name; what no entry
 * names within a day was given up; what went a week ago is forgotten. It looks
 * at the disk, for a page that has just opened knows no entries yet, and it
 * looks and writes in one piece, so that nothing written meanwhile is undone.
 */
export async function settle(now: number = Date.now()): Promise<void> {
  const tx = (await db()).transaction(["media", "outbox"], "readwrite");
  const store = tx.objectStore("media");
  const written = await tx.objectStore("outbox").getAll();
  const changes: Promise<unknown>[] = [];
  for (const medium of await store.getAll()) {
    const entry = written.find((e) => e.person === medium.person && namesOf(e).includes(medium.id));
    if (entry && entry.id !== medium.entry && medium.state !== "sent") {
      changes.push(store.put({ ...medium, entry: entry.id, what: entry.what }));
    } else if (isOver(medium, now)) changes.push(store.delete(medium.id));
  }
  await Promise.all([...changes, tx.done]);
  await reload();
}

function isOver({ entry, state, at, sentAt }: Medium, now: number): boolean {
  if (state === "sent") return Date.parse(sentAt ?? at) < now - sentIsShownFor;
  return entry === "" && Date.parse(at) < now - draftLife;
}

/** namesOf are the photos and voice notes that an entry names. */
export function namesOf({ body }: Entry): readonly string[] {
  const named = (body as { data?: { media?: unknown } } | null)?.data?.media;
  return Array.isArray(named) ? named : [];
}
