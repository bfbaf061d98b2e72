import { signal } from "@preact/signals";
import { type Person, workOffline } from "../api/session";
import { db, wipe } from "../offline/db";
import { makeKey, openKey, rounds, type Sealed, sign, statement, thumbprint } from "./seal";

/** Ten wrong PINs in a row wipe what can be read on the phone. */
export const mostTries = 10;

/** phone says what this device is: not enrolled, enrolled and locked, or unlocked. */
export const phone = signal<"unknown" | "none" | "locked" | "open">("unknown");

let signing: CryptoKey | null = null;

/** look finds out whether this device is enrolled, and whose it is. */
export async function look(): Promise<Person | null> {
  const record = await (await db()).get("phone", "this");
  phone.value = !record ? "none" : signing ? "open" : "locked";
  return record?.person ?? null;
}

/** A PIN has six digits or more. */
export function pinWorks(pin: string): boolean {
  return /^\d{6,12}$/.test(pin);
}

/** A Proof is a nonce of the server and the phone's signature over what it is for. */
export interface Proof {
  nonce: string;
  signature: string;
}

/** What a phone shows of itself when it enrols. */
export interface Presented {
  publicKey: JsonWebKey;
  proof: Proof;
}

/**
 * enrol makes this phone's key under a PIN. `nonce` asks the server for one
 * to sign; `announce` takes the public key there and brings back whose phone
 * it is. Only then is anything kept.
 */
export async function enrol(
  pin: string,
  nonce: () => Promise<string>,
  announce: (phone: Presented) => Promise<{ device: string; person: Person }>,
  iterations: number = rounds,
): Promise<void> {
  const sealed = await keyUnder(pin, iterations);
  const key = await openKey(pin, sealed);
  if (!key) throw new Error("a key just made does not open");
  const text = await nonce();
  const signature = await sign(key, statement("enrol", text, await thumbprint(sealed.publicKey)));
  const { device, person } = await announce({
    publicKey: sealed.publicKey,
    proof: { nonce: text, signature },
  });
  await (await db()).put("phone", { id: "this", device, person, tries: 0, ...sealed });
  presented = null;
  signing = key;
  phone.value = "open";
  workOffline(person);
}

// The server may have taken a phone whose answer got lost; it knows the phone
// again by its key, so a further try with the same PIN shows the same one.
let presented: { pin: string; sealed: Sealed } | null = null;

async function keyUnder(pin: string, iterations: number): Promise<Sealed> {
  if (presented?.pin !== pin) presented = { pin, sealed: await makeKey(pin, iterations) };
  return presented.sealed;
}

/** What a try at the PIN came to. */
export type Unlocked = { right: true } | { right: false; left: number };

/**
 * unlock opens the signing key. A try is counted before it is made, so that
 * pulling the battery saves none; the tenth wrong one wipes the phone.
 */
export async function unlock(pin: string): Promise<Unlocked> {
  const store = await db();
  const tx = store.transaction("phone", "readwrite", { durability: "strict" });
  const record = await tx.store.get("this");
  if (!record) throw new Error("this phone is not enrolled");
  const counted = { ...record, tries: record.tries + 1 };
  await Promise.all([tx.store.put(counted), tx.done]);
  const key = counted.tries > mostTries ? null : await openKey(pin, record);
  if (key) {
    await store.put("phone", { ...record, tries: 0 });
    signing = key;
    phone.value = "open";
    workOffline(record.person);
    return { right: true };
  }
  if (counted.tries >= mostTries) {
    await wipe();
    lock();
    phone.value = "none";
  }
  return { right: false, left: Math.max(mostTries - counted.tries, 0) };
}

/** lock forgets the open key; the PIN opens it again. */
export function lock(): void {
  signing = null;
  phone.value = "locked";
  workOffline(null);
}

/** deviceId is the name under which the server knows this phone; undefined where it is not enrolled. */
export async function deviceId(): Promise<string | undefined> {
  return (await (await db()).get("phone", "this"))?.device;
}

/** prove signs a nonce of the server, which so knows that it speaks with this phone, unlocked. */
export async function prove(verb: "sign-in" | "refresh", thing: string, nonce: string): Promise<Proof> {
  if (!signing) throw new Error("the phone is locked");
  return { nonce, signature: await sign(signing, statement(verb, nonce, thing)) };
}
