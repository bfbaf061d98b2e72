import type { Database } from "./db";

/**
 * Clock is a hybrid logical clock (Kulkarni and others, 2014, "Logical physical
 * clocks"): it follows the device's clock, as corrected by the server's last
 * word, but never runs backwards. What was made later on a device, or after
 * the device heard from the server, is later by it, however wrong the clock.
 */
export interface Clock {
  /** Milliseconds since 1970 of the last stamp. */
  ms: number;
  /** Tells stamps of one millisecond apart. */
  count: number;
  /** Which device: eight hexadecimal digits by chance. */
  node: string;
  /** Counts the entries of this device from 1; a number may be left out. */
  seq: number;
  /** Server's clock minus the device's at the last contact, in milliseconds. */
  ahead: number;
}

/** A Stamp is what an entry carries of the clock. */
export interface Stamp {
  device_seq: number;
  /** `textOf` the clock. */
  hlc: string;
}

const mostCount = 0xffff;

/** ticked is the clock after one more stamp; `now` is the device's clock in milliseconds. */
export function ticked(last: Clock, now: number): Clock {
  const ms = Math.max(Math.floor(now + last.ahead), last.ms);
  const count = ms > last.ms ? 0 : last.count + 1;
  const seq = last.seq + 1;
  return count > mostCount ? { ...last, seq, ms: ms + 1, count: 0 } : { ...last, seq, ms, count };
}

/** heard is the clock after the server said what time it is. */
export function heard(last: Clock, now: number, server: number): Clock {
  return { ...last, ahead: server - now };
}

/**
 * textOf writes a stamp so that texts sort as stamps do: twelve hexadecimal
 * digits of milliseconds, four of the count, eight of the node.
 */
export function textOf({ ms, count, node }: Clock): string {
  return `${hex(ms, 12)}-${hex(count, 4)}-${node}`;
}

function hex(n: number, digits: number): string {
  return n.toString(16).padStart(digits, "0");
}

function freshClock(): Clock {
  const chance = crypto.getRandomValues(new Uint32Array(1))[0] ?? 0;
  return { ms: 0, count: 0, node: hex(chance, 8), seq: 0, ahead: 0 };
}

async function change(store: Database, next: (last: Clock) => Clock): Promise<Clock> {
  const tx = store.transaction("clock", "readwrite");
  const clock = next((await tx.store.get("this")) ?? freshClock());
  await Promise.all([tx.store.put({ ...clock, id: "this" }), tx.done]);
  return clock;
}

/** stamp takes the next stamp; two tabs never take the same. */
export async function stamp(store: Database, now: number = Date.now()): Promise<Stamp> {
  const clock = await change(store, (last) => ticked(last, now));
  return { device_seq: clock.seq, hlc: textOf(clock) };
}

/** setClock takes the server's word for the time, which a contact brought. */
export async function setClock(store: Database, server: number, now: number = Date.now()): Promise<void> {
  if (Number.isFinite(server)) await change(store, (last) => heard(last, now, server));
}
