/** A Medium is a photo or a voice note on this device, with or without its entry. */
export interface Medium {
  /** UUIDv7, made here; the same id again is the same photo. */
  id: string;
  person: string;
  farm: string;
  kind: "photo" | "voice";
  /** Its entry's id; "" while the entry is not kept yet. */
  entry: string;
  /** The form in which it was taken, so that it is there again when the form is. */
  slot: string;
  /** What the entry is, in the person's words. */
  what: string;
  type: string;
  /** Empty once it has gone: the firm has it, and the phone its room back. */
  bytes: Uint8Array<ArrayBuffer>;
  size: number;
  /** SHA-256 of the bytes, hexadecimal. */
  sha256: string;
  /** Where it was taken, only if the person agreed to say so. */
  taken?: Place;
  /** The device's clock when it was made. */
  at: string;
  state: "kept" | "needs-you" | "sent";
  /** Code of what the server said against it. */
  why?: string;
  sentAt?: string;
}

/** A Place is degrees north and east. */
export interface Place {
  lat: number;
  lng: number;
}
