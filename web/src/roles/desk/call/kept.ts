import { signal } from "@preact/signals";
import { recall, remember } from "../../../offline/kept";
import { type Draft, isBlank } from "./draft";

const key = "desk.drafts";

/** Drafts are the notes that were begun and not sent, by farm; "" is the one of no farm. */
export type Drafts = Readonly<Record<string, Draft>>;

/** openCalls are the notes that were begun and not sent, as last known. */
export const openCalls = signal<readonly Draft[]>([]);

let chain: Promise<unknown> = Promise.resolve();

/** readDrafts gives the notes that the person signed in left on this device. */
export async function readDrafts(): Promise<Drafts> {
  await chain;
  const all = (await recall<Drafts>(key))?.body ?? {};
  openCalls.value = Object.values(all);
  return all;
}

/** keepDraft keeps a note on the disk as it is typed; a blank one is forgotten. */
export function keepDraft(draft: Draft): Promise<void> {
  return change((all) => (isBlank(draft) ? without(all, draft.farmId) : { ...all, [draft.farmId]: draft }));
}

/** dropDraft forgets a note that was sent or thrown away. */
export function dropDraft(farmId: string): Promise<void> {
  return change((all) => without(all, farmId));
}

// One change after the other: an earlier one must not write over a later.
function change(next: (all: Drafts) => Drafts): Promise<void> {
  const work = chain.then(async () => {
    const all = (await recall<Drafts>(key))?.body ?? {};
    const then = next(all);
    await remember(key, then);
    openCalls.value = Object.values(then);
  });
  chain = work.catch(() => undefined);
  return work;
}

function without(all: Drafts, farmId: string): Drafts {
  const { [farmId]: _, ...others } = all;
  return others;
}
