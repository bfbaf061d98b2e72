import { withSession } from "../api/session";
import { send } from "../api/transport";
import { db, type OutboxKey } from "../offline/db";
import type { Entry, SealedEntry } from "../offline/entry";
import { seal } from "./hpke";

const renewEvery = 86_400_000;

/** renewKey brings the server's public key when there is none, or it was brought long ago. */
export async function renewKey(now: number = Date.now()): Promise<void> {
  const store = await db();
  const known = await store.get("outboxKey", "this");
  if (known && Math.abs(now - known.at) < renewEvery) return;
  const { body } = await withSession((auth) => send<OutboxKey>("GET", "/api/outbox-key", { headers: auth }));
  await store.put("outboxKey", { ...body, id: "this", at: now });
}

/** sealed is the twin of an entry, undefined where the server's key was never brought. */
export async function sealed(entry: Entry): Promise<SealedEntry | undefined> {
  const key = await (await db()).get("outboxKey", "this");
  if (!key) return undefined;
  const { id, person, at, path, body } = entry;
  const closed = await seal(key, `${person}\n${id}`, JSON.stringify({ path, body }));
  return { id, person, at, ...closed };
}

/** sealRest seals what a person made before there was a key. */
export async function sealRest(person: string): Promise<void> {
  const store = await db();
  const known = new Set(await store.getAllKeysFromIndex("sealed", "person", person));
  for (const entry of await store.getAll("outbox")) {
    if (entry.person !== person || entry.state === "sent" || known.has(entry.id)) continue;
    const twin = await sealed(entry);
    if (!twin) return;
    const tx = store.transaction(["outbox", "sealed"], "readwrite");
    // It may have been sent in between.
    const now = entry.seq === undefined ? undefined : await tx.objectStore("outbox").get(entry.seq);
    if (now && now.id === entry.id && now.state !== "sent") await tx.objectStore("sealed").put(twin);
    await tx.done;
  }
}
