import type { Person } from "../api/session";

/** PhoneRecord is what an enrolled phone keeps for one person; without the PIN and this device it signs nothing. */
export interface PhoneRecord {
  /** Whose it is: a family may share a phone, apart by PIN. */
  id: string;
  device: string;
  person: Person;
  publicKey: JsonWebKey;
  salt: Uint8Array<ArrayBuffer>;
  iterations: number;
  iv: Uint8Array<ArrayBuffer>;
  /** The signing key in PKCS #8, sealed under the data key. */
  wrapped: ArrayBuffer;
  /** An HMAC key that cannot leave this browser: a copied database is no use elsewhere. */
  binding: CryptoKey;
  /** Wrong tries since the last right one. */
  tries: number;
  /** When the server last let this person in, by the device's clock in milliseconds. */
  contact: number;
  /** When the phone was last opened by this person, likewise. */
  used: number;
}
