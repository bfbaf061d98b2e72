import type { Field } from "../api/problem";

/** How far an entry is: on this device, refused and waiting for its person, or taken by the server. */
export type EntryState = "kept" | "needs-you" | "sent";

/** An Entry is one request that waits to be sent, in the order of `seq`. */
export interface Entry {
  /** Counts up on this device and never repeats; set by the database. */
  seq?: number;
  /** UUIDv7; also the Idempotency-Key, so that a repeat is one effect. */
  id: string;
  person: string;
  /** The device's clock when it was made. */
  at: string;
  method: "POST" | "PUT";
  path: string;
  body: unknown;
  /** What it is, in the person's words, for the list of what is to be sent. */
  what: string;
  state: EntryState;
  /** Why the server refused it. */
  problem?: { code: string; text: string; fields: readonly Field[] };
  sentAt?: string;
}
