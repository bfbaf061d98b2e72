import { shared } from "../i18n/shared/words";
import type { Entry } from "../offline/entry";
import { entries, flush, needing, underWay, unsent, waitsForSignIn } from "../offline/outbox";
import { Button } from "../ui/button";

/**
 * SendingLine always says how far this device's entries are. It is silent for
 * people who never kept one, and never calls "sent" what is only kept.
 */
export function SendingLine({ always = false }: { always?: boolean }) {
  const words = shared().sending;
  if (!always && entries.value.length === 0) return null;
  return (
    <section class="sending" aria-label={words.label}>
      {!onlyNeeds() && <p role="status">{stateText()}</p>}
      {needing.value > 0 && (
        <p role="status" class="sending-needs">
          {words.needsYou(needing.value)}
        </p>
      )}
      {unsent.value > 0 && underWay.value.length === 0 && !waitsForSignIn.value && (
        <Button kind="quiet" onClick={() => void flush().catch(() => undefined)}>
          {words.sendNow}
        </Button>
      )}
      {waitsForSignIn.value && <a href="/signin">{words.signIn}</a>}
    </section>
  );
}

// "All sent" beside an entry that was not taken would be a lie.
function onlyNeeds(): boolean {
  return needing.value > 0 && unsent.value === 0 && underWay.value.length === 0;
}

function stateText(): string {
  const words = shared().sending;
  if (underWay.value.length > 0) return words.sending(unsent.value);
  return unsent.value > 0 ? words.kept(unsent.value) : words.allSent;
}

/** EntryState is the state of one entry, for beside it. */
export function EntryState({ entry }: { entry: Entry }) {
  const words = shared().sending.states;
  return (
    <span class="entry-state">{words[underWay.value.includes(entry.id) ? "sending" : entry.state]}</span>
  );
}
