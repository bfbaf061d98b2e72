import { useState } from "preact/hooks";
import type { components } from "../../../api/api.gen";
import { api } from "../../../api/client";
import { useRead } from "../../../api/read";
import { formats } from "../../../i18n/format";
import { Button, LinkButton } from "../../../ui/button";
import { Trouble } from "../../../ui/states";
import { toast } from "../../../ui/toast";
import { useAgain } from "../clock";
import { deskWords } from "../words";

type TextIn = components["schemas"]["TextIn"];

/** Texts are the text messages that somebody must call back about: their number is not known, or their farm is not sure. */
export function Texts() {
  const words = deskWords().promises.texts;
  const list = useRead("texts", async (signal) => (await api.get("/api/texts", { signal })).body.items);
  useAgain(list.again);
  const items = list.value ?? [];
  if (items.length === 0) return null;
  return (
    <section aria-label={words.title}>
      <h2>{words.title}</h2>
      <ul class="ruled">
        {items.map((text) => (
          <Line key={text.id} text={text} again={() => void list.again()} />
        ))}
      </ul>
    </section>
  );
}

function Line({ text, again }: { text: TextIn; again: () => void }) {
  const words = deskWords().promises.texts;
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<unknown>(null);
  const dealt = async () => {
    setBusy(true);
    setError(null);
    try {
      await api.post("/api/texts/{id}/dealt", { path: { id: text.id }, version: text.version, body: {} });
      toast(words.dealt);
      again();
    } catch (failure) {
      setError(failure);
      again();
    } finally {
      setBusy(false);
    }
  };
  return (
    <li>
      <p>
        <a href={`tel:${text.phone}`}>{text.phone}</a>{" "}
        <time dateTime={text.received_at}>{formats().dateTime(text.received_at)}</time>
      </p>
      <blockquote class="event-said">{text.body}</blockquote>
      <LinkButton href={`/desk/call?from=${encodeURIComponent(text.phone)}`}>{words.note}</LinkButton>{" "}
      <Button busy={busy} onClick={() => void dealt()} aria-label={words.dealOf(text.phone)}>
        {words.deal}
      </Button>
      {error !== null && <Trouble error={error} texts={words.problems} />}
    </li>
  );
}
