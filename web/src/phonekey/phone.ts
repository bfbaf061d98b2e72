import { effect, signal } from "@preact/signals";
import { Problem } from "../api/problem";
import { leave, type Person, person, workOffline } from "../api/session";
import { db } from "../offline/db";
import type { PhoneRecord } from "./record";
import { makeKey, openKey, rounds, type Sealed, sign, statement, thumbprint } from "./seal";

/** Ten wrong PINs in a row wipe what can be read of that person on the phone. */
export const mostTries = 10;

/** After 75 days without contact a phone wipes what can be read: it may be lost. */
export const longestSilence = 75 * 86_400_000;

/** phone says what this device is: not enrolled, enrolled and locked, or unlocked. */
export const phone = signal<"unknown" | "none" | "locked" | "open">("unknown");

interface Opened {
  person: string;
  device: string;
  key: CryptoKey;
}

let opened: Opened | null = null;

// Whoever leaves, in this tab or another, closes the key with it; so does
// another person of the phone who comes in.
effect(() => {
  const here = person.value?.id;
  if (opened && here !== opened.person) {
    opened = null;
    phone.value = "locked";
  }
});

/** look finds out whose phone this is: who used it last comes first. Whoever was silent for too long is forgotten. */
export async function look(now: number = Date.now()): Promise<Person[]> {
  const records = await (await db()).getAll("phone");
  const over = records.filter((r) => now - r.contact > longestSilence);
  for (const { id } of over) await forget(id);
  const here = records.filter((r) => !over.includes(r)).sort((a, b) => b.used - a.used);
  phone.value = here.length === 0 ? "none" : opened ? "open" : "locked";
  return here.map((r) => r.person);
}

/** forget wipes what can be read of a person on this phone; what is not sent stays sealed. */
export async function forget(who: string): Promise<void> {
  await (await import("../lock/wipe")).wipeReadable(who);
  if (opened?.person === who) lock();
  const left = await (await db()).count("phone");
  if (!opened) phone.value = left > 0 ? "locked" : "none";
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
  const now = Date.now();
  await (await db()).put("phone", {
    id: person.id,
    device,
    person,
    tries: 0,
    contact: now,
    used: now,
    ...sealed,
  });
  presented = null;
  enter({ person: person.id, device, key }, person);
}

function enter(next: Opened, who: Person): void {
  // Another of the family may have been here before.
  if (person.peek() && person.peek()?.id !== who.id) leave();
  workOffline(who);
  opened = next;
  phone.value = "open";
}

// The server may have taken a phone whose answer got lost; it knows the phone
// again by its key, so a further try with the same PIN shows the same one.
let presented: { pin: string; sealed: Sealed } | null = null;

async function keyUnder(pin: string, iterations: number): Promise<Sealed> {
  if (presented?.pin !== pin) presented = { pin, sealed: await makeKey(pin, iterations) };
  return presented.sealed;
}

/** What a try at the PIN came to. */
export type Unlocked = { right: true } | { right: false; left: number; device: string };

/**
 * unlock opens a person's signing key. A try is counted before it is made, so
 * that pulling the battery saves none; the tenth wrong one wipes what can be
 * read of that person.
 */
export async function unlock(who: string, pin: string): Promise<Unlocked> {
  const record = await counted(who);
  const key = record.tries > mostTries ? null : await openKey(pin, record);
  if (key) {
    await (await db()).put("phone", { ...record, tries: 0, used: Date.now() });
    enter({ person: who, device: record.device, key }, record.person);
    return { right: true };
  }
  if (record.tries >= mostTries) await forget(who);
  return { right: false, left: Math.max(mostTries - record.tries, 0), device: record.device };
}

async function counted(who: string): Promise<PhoneRecord> {
  const tx = (await db()).transaction("phone", "readwrite", { durability: "strict" });
  const record = await tx.store.get(who);
  if (!record) throw new Error("this phone is not enrolled");
  const next = { ...record, tries: record.tries + 1 };
  await Promise.all([tx.store.put(next), tx.done]);
  return next;
}

/** lock forgets the open key; the PIN opens it again. */
export function lock(): void {
  opened = null;
  phone.value = "locked";
  leave();
}

/** devices are the names under which the server knows this phone, one for each person. */
export async function devices(): Promise<string[]> {
  return (await (await db()).getAll("phone")).map((r) => r.device);
}

/** device is the name of this phone for whom it is unlocked; undefined while it is locked. */
export function device(): string | undefined {
  return opened?.device;
}

/** noteContact remembers that the server let the person of the unlocked phone in just now. */
export async function noteContact(now: number = Date.now()): Promise<void> {
  if (!opened) return;
  const tx = (await db()).transaction("phone", "readwrite");
  const record = await tx.store.get(opened.person);
  if (record) await tx.store.put({ ...record, contact: now });
  await tx.done;
}

/** prove signs a nonce of the server, which so knows that it speaks with this phone, unlocked. */
export async function prove(verb: "sign-in" | "refresh", thing: string, nonce: string): Promise<Proof> {
  if (!opened) throw new Problem(401, "phone-locked", "Open the phone with its PIN.");
  return { nonce, signature: await sign(opened.key, statement(verb, nonce, thing)) };
}
