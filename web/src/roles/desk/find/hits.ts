import type { Hit } from "../server";

/**
 * addressOf is where a hit leads: the farm brief, with the caller known where
 * a person or the client was found. `carry` takes a note of no farm along.
 */
export function addressOf(hit: Hit, carry = false): string {
  if (hit.kind === "ticket") return `/desk?ticket=${encodeURIComponent(hit.id)}`;
  if (!hit.farm_id) return `/desk/call?name=${encodeURIComponent(hit.label)}`;
  const who = { person: hit.id, client: "client" }[hit.kind];
  const query = new URLSearchParams({ ...(who ? { who } : {}), ...(carry ? { carry: "1" } : {}) }).toString();
  return `/desk/farms/${encodeURIComponent(hit.farm_id)}${query && `?${query}`}`;
}

/** looksLikePhone says whether what was typed can only be a phone number: then a call can be noted from it. */
export function looksLikePhone(text: string): boolean {
  return /^\+?[\d\s().-]{6,}$/.test(text.trim()) && text.replace(/\D/g, "").length >= 6;
}

/** sure says whether all that was found leads to one place, so that Enter may go there without a look. */
export function sure(hits: readonly Hit[]): boolean {
  return hits.length > 0 && new Set(hits.map((h) => h.farm_id || h.id)).size === 1;
}

const key = (hit: Hit) => `${hit.kind} ${hit.id} ${hit.farm_id}`;

/** distinct leaves out what was found a second time by another word. */
export function distinct(hits: readonly Hit[]): Hit[] {
  return [...new Map(hits.map((h) => [key(h), h])).values()];
}
