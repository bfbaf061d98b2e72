import { useEffect } from "preact/hooks";
import { unsent } from "../offline/outbox";
import { Button } from "../ui/button";
import { Network } from "./attach";
import type { Medium } from "./medium";
import { allowed, mayGoNow, onWifiNow } from "./network";
import { again, flush, underWay } from "./send";
import { media, reload, remove, waiting } from "./store";
import { used } from "./used";
import { mediaWords } from "./words";

/** SentMedia says of every photo and voice note how far it is, what they cost, and what holds them. */
export function SentMedia() {
  const words = mediaWords();
  useEffect(() => void reload().catch(() => undefined), []);
  const listed = media.value.filter((m) => m.entry !== "");
  const bytes = waiting.value.reduce((sum, m) => sum + m.size, 0);
  return (
    <section aria-labelledby="sent-media">
      <h2 id="sent-media">{words.title}</h2>
      {waiting.value.length > 0 && <p>{words.waits(waiting.value.length, bytes)}</p>}
      <Held />
      <p>{words.used(used())}</p>
      <Network />
      <ul class="phone-messages">
        {[...listed].reverse().map((m) => (
          <Line key={m.id} medium={m} />
        ))}
      </ul>
    </section>
  );
}

// What holds them back, and the press that lets them go.
function Held() {
  const words = mediaWords();
  if (waiting.value.length === 0 || underWay.value) return null;
  if (unsent.value > 0) return <p>{words.held.words}</p>;
  if (allowed.value === null) return <p>{words.held.chosen}</p>;
  const may = mayGoNow();
  if (may === "yes") return null;
  const wifi = () => {
    onWifiNow.value = true;
    void flush().catch(() => undefined);
  };
  return (
    <>
      <p>{words.held[may]}</p>
      {may === "ask" && <Button onClick={wifi}>{words.onWifi}</Button>}
    </>
  );
}

function Line({ medium }: { medium: Medium }) {
  const words = mediaWords();
  const going = underWay.value?.id === medium.id ? underWay.value : null;
  const state = going
    ? words.state.sending(Math.round((100 * going.gone) / medium.size))
    : words.state[medium.state];
  return (
    <li>
      <p>{words.of(words[medium.kind], medium.what)}</p>
      <p class="phone-note">
        <span class="entry-state">{state}</span>
      </p>
      {medium.state === "needs-you" && (
        <>
          <p>
            {words.refused} {words.why[medium.why ?? ""] ?? medium.why}
          </p>
          <p class="phone-pair">
            <Button onClick={() => void again(medium)}>{words.again}</Button>
            <Button onClick={() => void remove(medium.id)}>{words.discard}</Button>
          </p>
        </>
      )}
    </li>
  );
}
