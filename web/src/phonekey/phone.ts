import { signal } from "@preact/signals";
import { type Person, workOffline } from "../api/session";
import { db, wipe } from "../offline/db";
import { makeKey, openKey, rounds, sign } from "./seal";

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

/**
 * enrol makes this phone's key under a PIN. `announce` takes the public key to
 * the server and brings back whose phone it is; only then is anything kept.
 */
export async function enrol(
  pin: string,
  announce: (publicKey: JsonWebKey) => Promise<{ device: string; person: Person }>,
  iterations: number = rounds,
): Promise<void> {
  const sealed = await makeKey(pin, iterations);
  const { device, person } = await announce(sealed.publicKey);
  await (await db()).put("phone", { id: "this", device, person, tries: 0, ...sealed });
  await unlock(pin);
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

/** prove signs a nonce of the server, which so knows that it speaks with this phone, unlocked. */
export async function prove(nonce: string): Promise<{ device: string; signature: string }> {
  const record = await (await db()).get("phone", "this");
  if (!record || !signing) throw new Error("the phone is locked");
  return { device: record.device, signature: await sign(signing, nonce) };
}
