import { effect, signal } from "@preact/signals";
import type { Entry, SealedEntry } from "../../../offline/entry";
import { entries } from "../../../offline/outbox";

interface Used {
  /** 2026-03 */
  month: string;
  bytes: number;
}

const key = "tendfold.used";

/** used is what Tendfold took of the person's data this month on this phone, in bytes, as far as the browser tells. */
export const used = signal<Used>(kept());

function monthOf(now: Date): string {
  return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, "0")}`;
}

function kept(now: Date = new Date()): Used {
  const fresh = { month: monthOf(now), bytes: 0 };
  try {
    const found = JSON.parse(localStorage.getItem(key) ?? "null") as Used | null;
    return found?.month === fresh.month && Number.isFinite(found.bytes) ? found : fresh;
  } catch {
    return fresh;
  }
}

/** spend adds bytes that went up or came down. */
export function spend(bytes: number, now: Date = new Date()): void {
  const before = kept(now);
  used.value = { ...before, bytes: before.bytes + bytes };
  localStorage.setItem(key, JSON.stringify(used.value));
}

/** What a request costs beside its content: headers both ways, and the answer. An estimate. */
const around = 900;

/** What a receipt costs. An estimate. */
const receipt = 60;

/** costOf is about how many bytes the sending of entries takes, photos apart. */
export function costOf(open: readonly Entry[], shut: readonly SealedEntry[]): number {
  if (open.length + shut.length === 0) return 0;
  const letters = (all: readonly unknown[]) => new TextEncoder().encode(JSON.stringify(all)).length;
  const pages = Math.ceil(open.length / 200) + Math.ceil(shut.length / 200);
  return (
    letters(open.map((e) => e.body)) + letters(shut) + pages * around + (open.length + shut.length) * receipt
  );
}

// What came from the network: the service worker's own answers cost nothing.
function cameIn(entry: PerformanceResourceTiming): number {
  const fromServer = entry.workerStart === 0 || new URL(entry.name).pathname.startsWith("/api/");
  return fromServer ? entry.transferSize : 0;
}

let counting = false;

/** count begins to count, once a page. */
export function count(): void {
  if (counting) return;
  counting = true;
  if (typeof PerformanceObserver !== "undefined") {
    new PerformanceObserver((list) => {
      const bytes = list.getEntries().reduce((sum, e) => sum + cameIn(e as PerformanceResourceTiming), 0);
      if (bytes > 0) spend(bytes);
    }).observe({ type: "resource", buffered: true });
  }
  // Browsers do not tell what went up, so that is worked out.
  let waiting = new Set<string>();
  effect(() => {
    const gone = entries.value.filter((e) => e.state === "sent" && waiting.has(e.id));
    waiting = new Set(entries.value.filter((e) => e.state === "kept").map((e) => e.id));
    if (gone.length > 0) spend(costOf(gone, []));
  });
}
