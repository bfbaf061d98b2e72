import { type DBSchema, type IDBPDatabase, type OpenDBCallbacks, openDB } from "idb";
import type { Medium } from "../media/medium";
import type { PhoneRecord } from "../phonekey/record";
import type { Clock } from "./clock";
import type { Entry, SealedEntry } from "./entry";

interface Kept {
  key: string;
  /** Whose reading it was: another person on the same phone does not see it. */
  person: string;
  /** When it was read, in milliseconds since 1970. */
  at: number;
  body: unknown;
}

/** OutboxKey is the server's public key to which entries are sealed. */
export interface OutboxKey {
  kid: string;
  kty: string;
  crv: string;
  x: string;
  y: string;
}

interface Stores extends DBSchema {
  outbox: { key: number; value: Entry; indexes: { id: string } };
  kept: { key: [string, string]; value: Kept };
  phone: { key: string; value: PhoneRecord };
  /** Entries that only the server can open; these outlive a wipe. */
  sealed: { key: string; value: SealedEntry; indexes: { person: string } };
  /** What belongs to the device, whoever uses it. */
  clock: { key: string; value: Clock & { id: "this" } };
  outboxKey: { key: string; value: OutboxKey & { id: "this"; at: number } };
  /** Photos and voice notes. */
  media: { key: string; value: Medium };
}

/** Database is what this device keeps. */
export type Database = IDBPDatabase<Stores>;

const name = "tendfold";
const version = 3;

let opened: Promise<Database> | undefined;

// A newer tab must be able to change the stores.
const giveWay: OpenDBCallbacks<Stores> = {
  blocking: (_current, _blocked, event) => {
    (event.target as IDBDatabase).close();
    opened = undefined;
  },
  terminated: () => {
    opened = undefined;
  },
};

/** db opens what this device keeps: entries to send, answers read earlier, the phone's keys. */
export function db(): Promise<Database> {
  opened ??= open();
  opened.catch(() => {
    opened = undefined;
  });
  return opened;
}

async function open(): Promise<Database> {
  try {
    return await openDB<Stores>(name, version, { ...giveWay, upgrade });
  } catch (error) {
    // Another tab runs a newer release. Stores are only ever added, so this page goes on with what it knows.
    if (error instanceof DOMException && error.name === "VersionError")
      return openDB(name, undefined, giveWay);
    throw error;
  }
}

const upgrade: NonNullable<OpenDBCallbacks<Stores>["upgrade"]> = (stores, before, _, tx) => {
  if (before < 1) {
    const outbox = stores.createObjectStore("outbox", { keyPath: "seq", autoIncrement: true });
    outbox.createIndex("id", "id", { unique: true });
    stores.createObjectStore("kept", { keyPath: ["person", "key"] });
    stores.createObjectStore("phone", { keyPath: "id" });
  }
  if (before < 2) {
    stores.createObjectStore("sealed", { keyPath: "id" }).createIndex("person", "person");
    stores.createObjectStore("clock", { keyPath: "id" });
    stores.createObjectStore("outboxKey", { keyPath: "id" });
    void manyPeople(tx.objectStore("phone"));
  }
  if (before < 3) stores.createObjectStore("media", { keyPath: "id" });
};

// The first release knew one person a phone, under a name that was nobody's.
async function manyPeople(store: {
  get(key: string): Promise<PhoneRecord | undefined>;
  put(record: PhoneRecord): Promise<unknown>;
  delete(key: string): Promise<unknown>;
}): Promise<void> {
  const record = await store.get("this");
  if (!record) return;
  const now = Date.now();
  await store.put({ ...record, id: record.person.id, contact: now, used: now });
  await store.delete("this");
}

/** wipe empties the device of everything, what is not sent included: for tests, and for nothing else. */
export async function wipe(): Promise<void> {
  const stores = ["outbox", "kept", "phone", "sealed", "clock", "outboxKey", "media"] as const;
  const tx = (await db()).transaction(stores, "readwrite");
  await Promise.all([...stores.map((store) => tx.objectStore(store).clear()), tx.done]);
}
