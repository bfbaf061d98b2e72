import type { Field } from "../api/problem";
import type { Entry, EntryState, Refusal } from "./entry";

/** syncPath takes many entries in one request; everything else goes alone. */
export const syncPath = "/api/sync";

/** What the server takes at once, and what a bad network carries in one piece. */
const mostEntries = 200;
const mostLetters = 200_000;

/** pageOf gathers what follows an entry on the same way, as much as fits one request. */
export function pageOf(waiting: readonly Entry[]): Entry[] {
  const page: Entry[] = [];
  let letters = 0;
  for (const entry of waiting) {
    if (entry.path !== syncPath) break;
    letters += JSON.stringify(entry.body).length;
    if (page.length > 0 && (page.length === mostEntries || letters > mostLetters)) break;
    page.push(entry);
  }
  return page;
}

/** A Receipt is the server's answer for one entry of a page; the page's order is kept. */
export interface Receipt {
  state: "kept" | "kept-before" | "refused" | "later";
  problem?: { code: string; detail: string; fields?: Field[] | null };
}

interface Waiting {
  state: EntryState;
  problem?: Refusal;
  sentAt?: string;
}

/** received is an entry, open or sealed, after its receipt. One that the server could not take yet stays as it is. */
export function received<E extends Waiting>(entry: E, receipt: Receipt | undefined, now: string): E {
  if (!receipt || receipt.state === "later") return entry;
  if (receipt.state !== "refused") return { ...entry, state: "sent", sentAt: now };
  const { code = "refused", detail = "", fields } = receipt.problem ?? {};
  return { ...entry, state: "needs-you", problem: { code, text: detail, fields: fields ?? [] } };
}
