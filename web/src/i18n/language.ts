import { signal } from "@preact/signals";

/** The languages that screens speak. */
export type Language = "en" | "fr";

export const languages: readonly Language[] = ["en", "fr"];

const key = "tendfold.language";

/** language is what the screens speak now. Read it through an area or `formats()`, set it with `speak`. */
export const language = signal<Language>(chosen());

function chosen(): Language {
  const kept = globalThis.localStorage?.getItem(key);
  if (kept === "en" || kept === "fr") return kept;
  return globalThis.navigator?.language?.toLowerCase().startsWith("fr") ? "fr" : "en";
}

type Load = (language: Language) => Promise<void>;
const inUse = new Set<Load>();

/**
 * speak changes the language once every area in use has its words, so that no
 * screen shows two languages. It fails when the words cannot be brought; the
 * screen then stays as it is.
 */
export async function speak(next: Language): Promise<void> {
  await Promise.all([...inUse].map((load) => load(next)));
  globalThis.localStorage?.setItem(key, next);
  language.value = next;
  globalThis.document?.documentElement.setAttribute("lang", next);
}

/** An Area is the messages of one part of the app; calling it gives those of the language spoken now. */
export interface Area<Messages> {
  (): Messages;
  /** load brings the words of a language (of the one spoken now when none is given); pages wait for it. */
  load(language?: Language): Promise<void>;
}

/** area makes an Area from one file a language; a role's words are not sent to another role. */
export function area<Messages>(
  files: Record<Language, () => Promise<{ default: Messages }>>,
): Area<Messages> {
  const words = signal<Partial<Record<Language, Messages>>>({});
  const load = async (wanted: Language = language.peek()) => {
    inUse.add(load);
    if (words.peek()[wanted]) return;
    const file = await files[wanted]();
    words.value = { ...words.peek(), [wanted]: file.default };
  };
  const read = () => {
    const found = words.value[language.value] ?? words.value.en ?? words.value.fr;
    if (!found) throw new Error("messages are read before their area was loaded");
    return found;
  };
  return Object.assign(read, { load });
}
