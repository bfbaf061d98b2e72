import { withSession } from "../api/session";
import { send } from "../api/transport";
import { db } from "../offline/db";
import type { EntryState, SealedEntry } from "../offline/entry";
import { type Receipt, received } from "../offline/page";

const mostEntries = 200;
const mostLetters = 200_000;

/**
 * deliver brings sealed entries of the person signed in whose readable twin is
 * gone, page by page, and forgets what the server has taken. One that it
 * refuses stays with its reason.
 */
export async function deliver(waiting: readonly SealedEntry[]): Promise<void> {
  const rest = [...waiting];
  while (rest.length > 0) {
    const page = rest.splice(0, fitting(rest));
    const entries = page.map(({ id, kid, enc, ciphertext }) => ({ id, kid, enc, ciphertext }));
    const answer = await withSession((headers) =>
      send<{ receipts: Receipt[] }>("POST", "/api/sync/sealed", { body: { entries }, headers, packed: true }),
    );
    await note(page, answer.body.receipts);
  }
}

function fitting(rest: readonly SealedEntry[]): number {
  let letters = 0;
  const over = rest.findIndex((e, i) => {
    letters += e.ciphertext.length;
    return i > 0 && (i === mostEntries || letters > mostLetters);
  });
  return over < 0 ? rest.length : over;
}

async function note(page: readonly SealedEntry[], receipts: readonly Receipt[]): Promise<void> {
  const tx = (await db()).transaction("sealed", "readwrite");
  for (const [i, entry] of page.entries()) {
    const after = received<SealedEntry & { state: EntryState }>({ ...entry, state: "kept" }, receipts[i], "");
    if (after.state === "sent") await tx.store.delete(entry.id);
    if (after.state === "needs-you" && after.problem)
      await tx.store.put({ ...entry, problem: after.problem });
  }
  await tx.done;
}
