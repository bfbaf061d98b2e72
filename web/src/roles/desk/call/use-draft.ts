import { useEffect, useState } from "preact/hooks";
import { type Beginning, type Draft, isBlank, newDraft } from "./draft";
import { dropDraft, keepDraft, readDrafts } from "./kept";

/** A DraftInHand is the note of one farm as it stands on the screen and on the disk. */
export interface DraftInHand {
  draft: Draft;
  /** Whether it was begun earlier and not sent. */
  restored: boolean;
  set: (more: Partial<Draft>) => void;
  /** clear forgets the note and begins another. */
  clear: () => void;
}

/**
 * useDraft keeps a note on the disk with every key, and takes up one that was
 * left unsent, unless something has been typed before it was found. With
 * `carry` a note of no farm becomes one of this farm.
 */
export function useDraft({ carry, ...beginning }: Beginning & { carry: boolean }): DraftInHand {
  const { farm } = beginning;
  const [draft, setDraft] = useState(() => newDraft(beginning, new Date()));
  const [restored, setRestored] = useState(false);
  const set = (more: Partial<Draft>) => {
    setDraft((now) => {
      const next = { ...now, ...more, farm: farm.name || now.farm };
      // The clock of a call runs from its first word, not from when its farm was looked up.
      if (isBlank(now) && !isBlank(next)) next.startedAt = new Date().toISOString();
      void keepDraft(next).catch(() => undefined);
      return next;
    });
  };
  useEffect(() => {
    let wanted = true;
    readDrafts()
      .then((all) => {
        const carried = carry && !all[farm.id] ? all[""] : undefined;
        const found = all[farm.id] ?? carried;
        if (!wanted || !found) return;
        const mine = takenUp(found, beginning);
        if (carried) void keepDraft(mine).then(() => dropDraft(""));
        setDraft((now) => (isBlank(now) ? mine : now));
        setRestored(!carried);
      })
      .catch(() => undefined);
    return () => {
      wanted = false;
    };
  }, [farm.id]);
  const clear = () => {
    void dropDraft(farm.id).catch(() => undefined);
    setRestored(false);
    setDraft(newDraft(beginning, new Date()));
  };
  return { draft, restored, set, clear };
}

// Who calls now is known better than who called when the note was begun.
function takenUp(found: Draft, { farm, who, phone }: Beginning): Draft {
  return {
    ...found,
    farmId: farm.id,
    farm: farm.name || found.farm,
    who: who || found.who,
    phone: phone || found.phone,
  };
}
