import { signal } from "@preact/signals";
import { resume } from "../api/session";
import { send } from "../api/transport";
import { speak } from "../i18n/language";
import { look } from "../phonekey/phone";
import { partOf } from "./areas";

/** started says that we know whether somebody is signed in here. */
export const started = signal(false);

/** needsSetUp says that the server has no firm yet: the first person to come sets it up. */
export const needsSetUp = signal(false);

async function askForSetUp(): Promise<void> {
  const { body } = await send<{ set_up: boolean }>("GET", "/api/firm");
  needsSetUp.value = !body.set_up;
}

/** start finds out who is here: an enrolled phone waits for its PIN, a browser takes up its session if it has one. */
export async function start(): Promise<void> {
  try {
    const [owner] = await look().catch(() => []);
    if (owner) await speak(owner.language).catch(() => undefined);
    else {
      // Side by side: on a slow line every question in a row is half a second.
      const setUp = askForSetUp().catch(() => undefined);
      partOf("/signin")
        ?.load()
        .catch(() => undefined);
      if (!(await resume())) await setUp;
    }
  } finally {
    started.value = true;
  }
}
