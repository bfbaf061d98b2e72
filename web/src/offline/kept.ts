import { person } from "../api/session";
import { db } from "./db";

/** A Reading is an answer of the server and when it was read. */
export interface Reading<Body> {
  body: Body;
  at: Date;
}

/** remember keeps an answer for the days without network. */
export async function remember(key: string, body: unknown): Promise<void> {
  const owner = person.peek();
  if (owner) await (await db()).put("kept", { key, person: owner.id, at: Date.now(), body });
}

/** recall gives the last answer kept under a key for the person signed in. */
export async function recall<Body>(key: string): Promise<Reading<Body> | undefined> {
  const owner = person.peek();
  const found = owner && (await (await db()).get("kept", [owner.id, key]));
  return found ? { body: found.body as Body, at: new Date(found.at) } : undefined;
}
