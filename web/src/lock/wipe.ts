import { db } from "../offline/db";
import { sealRest } from "./sealing";

/**
 * wipeReadable takes from this device what can be read of one person: the
 * phone's key, the answers kept, the entries, photos and voice notes. Entries
 * that are not sent stay sealed, and go when the person is let in again. What could not be sealed, for the server's key has never been brought,
 * stays as it is: losing it would be worse.
 */
export async function wipeReadable(person: string): Promise<void> {
  await sealRest(person).catch(() => undefined);
  const store = await db();
  const tx = store.transaction(["outbox", "kept", "phone", "sealed", "media"], "readwrite", {
    durability: "strict",
  });
  const safe = new Set(await tx.objectStore("sealed").index("person").getAllKeys(person));
  const outbox = tx.objectStore("outbox");
  for (const entry of await outbox.getAll()) {
    const gone = entry.person === person && (entry.state === "sent" || safe.has(entry.id));
    if (gone && entry.seq !== undefined) await outbox.delete(entry.seq);
  }
  await tx.objectStore("kept").delete(IDBKeyRange.bound([person], [person, []]));
  await tx.objectStore("phone").delete(person);
  const media = tx.objectStore("media");
  for (const medium of await media.getAll()) if (medium.person === person) await media.delete(medium.id);
  await tx.done;
}
