/** A Contact of the firm, to be called. */
export interface Contact {
  name: string;
  phone: string;
}

// They are the firm's own numbers and must be there when nobody can open the
// phone, so they outlive a wipe.
const key = "tendfold.call";

/** keepNumbers remembers whom to call from a locked phone; none leaves those known before. */
export function keepNumbers(contacts: readonly Contact[]): void {
  if (contacts.length === 0) return;
  const known = new Map(contacts.map(({ name, phone }) => [phone, { name, phone }]));
  localStorage.setItem(key, JSON.stringify([...known.values()].slice(0, 3)));
}

/** numbers are whom to call. */
export function numbers(): Contact[] {
  try {
    const found: unknown = JSON.parse(localStorage.getItem(key) ?? "[]");
    return Array.isArray(found) ? (found as Contact[]).filter((c) => typeof c?.phone === "string") : [];
  } catch {
    return [];
  }
}
