import type { Field } from "../api/problem";

/** How far an entry is: on this device, refused and waiting for its person, or taken by the server. */
export type EntryState = "kept" | "needs-you" | "sent";

/** Why the server refused an entry. */
export interface Refusal {
  code: string;
  text: string;
  fields: readonly Field[];
}

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
  problem?: Refusal;
  sentAt?: string;
}

/** Sealed is a text that only the server can open, in base64url: HPKE (RFC 9180) to the key named by `kid`. */
export interface Sealed {
  kid: string;
  enc: string;
  ciphertext: string;
}

/** A SealedEntry is the twin of an entry that is not sent; it stays when what can be read is wiped. */
export interface SealedEntry extends Sealed {
  id: string;
  person: string;
  at: string;
  problem?: Refusal;
}
