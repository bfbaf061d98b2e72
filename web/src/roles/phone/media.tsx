import type { ComponentType, FunctionComponent } from "preact";
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

// A part of a page that the first load does without.
function later<P extends object>(load: () => Promise<ComponentType<P>>): FunctionComponent<P> {
  return (props: P) => {
    const [Part, setPart] = useState<ComponentType<P>>();
    useEffect(() => void load().then((found) => setPart(() => found), noPart), []);
    return Part ? <Part {...props} /> : null;
  };
}

const noPart = () => undefined;

/** Attach takes photos and voice notes; it comes once the page stands. */
export const Attach = later(async () => (await bring()).Attach);

/** SentMedia is how far photos and voice notes are. */
export const SentMedia = later(async () => (await bring()).SentMedia);

const calm = 3_000;

/** startMedia lets photos and voice notes be sent, once what the person came for has been drawn. */
export function startMedia(): void {
  setTimeout(() => void bring().catch(noPart), calm);
}
