import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";

type Brought = typeof import("../../media/phone");

let brought: Promise<Brought> | undefined;

// Without the file the page does without; the next page asks for it again.
function bring(): Promise<Brought> {
  brought ??= import("../../media/phone").then(async (found) => {
    await found.mediaWords.load();
    found.start();
    return found;
  });
  brought.catch(() => {
    brought = undefined;
  });
  return brought;
}

function later<P extends object>(pick: (found: Brought) => ComponentType<P>): ComponentType<P> {
  return (props: P) => {
    const [found, setFound] = useState<Brought>();
    useEffect(() => void bring().then(setFound, () => undefined), []);
    const Part = found && pick(found);
    return Part ? <Part {...props} /> : null;
  };
}

/** Attach takes photos and voice notes; it comes once the page stands. */
export const Attach = later((found) => found.Attach);

/** SentMedia is how far photos and voice notes are. */
export const SentMedia = later((found) => found.SentMedia);

const calm = 3_000;

/** startMedia lets photos and voice notes be sent, once what the person came for has been drawn. */
export function startMedia(): void {
  setTimeout(() => void bring().catch(() => undefined), calm);
}
