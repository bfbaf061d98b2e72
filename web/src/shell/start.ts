import { signal } from "@preact/signals";
import { resume } from "../api/session";
import { speak } from "../i18n/language";
import { look } from "../phonekey/phone";

/** started says that we know whether somebody is signed in here. */
export const started = signal(false);

/** start finds out who is here: an enrolled phone waits for its PIN, a browser takes up its session if it has one. */
export async function start(): Promise<void> {
  try {
    const owner = await look().catch(() => null);
    if (owner) await speak(owner.language).catch(() => undefined);
    else await resume();
  } finally {
    started.value = true;
  }
}
