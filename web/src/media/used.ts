// What photos and voice notes have cost on this phone, by month, as a person
// who buys data by the month counts it.
import { signal } from "@preact/signals";

const key = "tendfold.media-used";

// Counts what this page has spent, so that a page that shows the sum follows it.
const spent = signal(0);

interface Used {
  month: string;
  bytes: number;
}

function monthOf(now: Date): string {
  return now.toISOString().slice(0, 7);
}

/** used is how many bytes went this month. */
export function used(now: Date = new Date()): number {
  void spent.value;
  try {
    const found = JSON.parse(localStorage.getItem(key) ?? "{}") as Partial<Used>;
    return found.month === monthOf(now) ? (found.bytes ?? 0) : 0;
  } catch {
    return 0;
  }
}

/** spend counts bytes that went. */
export function spend(bytes: number, now: Date = new Date()): void {
  const sum: Used = { month: monthOf(now), bytes: used(now) + bytes };
  localStorage.setItem(key, JSON.stringify(sum));
  spent.value += bytes;
}
