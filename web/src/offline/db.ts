import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { PhoneRecord } from "../phonekey/record";
import type { Entry } from "./entry";

interface Kept {
  key: string;
  /** Whose reading it was: another person on the same phone does not see it. */
  person: string;
  /** When it was read, in milliseconds since 1970. */
  at: number;
  body: unknown;
}

interface Stores extends DBSchema {
  outbox: { key: number; value: Entry; indexes: { id: string } };
  kept: { key: [string, string]; value: Kept };
  phone: { key: string; value: PhoneRecord };
}

let opened: Promise<IDBPDatabase<Stores>> | undefined;

/** db opens what this device keeps: entries to send, answers read earlier, the phone's key. */
export function db(): Promise<IDBPDatabase<Stores>> {
  opened ??= openDB<Stores>("tendfold", 1, {
    upgrade(fresh) {
      const outbox = fresh.createObjectStore("outbox", { keyPath: "seq", autoIncrement: true });
      outbox.createIndex("id", "id", { unique: true });
      fresh.createObjectStore("kept", { keyPath: ["person", "key"] });
      fresh.createObjectStore("phone", { keyPath: "id" });
    },
    // A newer tab must be able to change the stores.
    blocking: (_current, _blocked, event) => {
      (event.target as IDBDatabase).close();
      opened = undefined;
    },
    terminated: () => {
      opened = undefined;
    },
  });
  return opened;
}

/** wipe empties everything that can be read on this device. */
export async function wipe(): Promise<void> {
  const stores = ["outbox", "kept", "phone"] as const;
  const tx = (await db()).transaction(stores, "readwrite");
  await Promise.all([...stores.map((name) => tx.objectStore(name).clear()), tx.done]);
}
