import { useState } from "preact/hooks";
import { TextArea } from "../../ui/field";
import { Trouble } from "../../ui/states";
import { say } from "./entry";
import { Gate } from "./gate";
import type { View } from "./overlay";
import { BigButton, CallLinks, useKeeping } from "./parts";
import { Picture } from "./pictures";
import { phoneWords } from "./words";

/** Help has the firm's numbers, a wish to be called back, and what was promised. */
export function Help() {
  return (
    <Gate title={phoneWords().help.title}>
      {(farm) => (
        <>
          <CallLinks farm={farm} />
          <CallBack farm={farm} />
          <Promises farm={farm} />
        </>
      )}
    </Gate>
  );
}

function CallBack({ farm }: { farm: View }) {
  const words = phoneWords().help;
  const [note, setNote] = useState("");
  const { busy, error, keep } = useKeeping();
  if (farm.promises.some((p) => p.kind === "call-back" && p.mine)) return <p role="status">{words.asked}</p>;
  const text = note.trim();
  const ask = () =>
    keep(() => say({ farm, kind: "call-me", data: text ? { note: text } : {}, what: words.whatBack }));
  return (
    <>
      {error !== null && <Trouble error={error} />}
      <BigButton kind="main" busy={busy} picture={<Picture of="call" />} onClick={ask}>
        {words.back}
        <span class="phone-note">{words.backHint}</span>
      </BigButton>
      <TextArea label={words.note} value={note} onValue={setNote} maxLength={500} optional />
    </>
  );
}

function Promises({ farm }: { farm: View }) {
  const words = phoneWords().help;
  const dated = farm.promises.filter((p) => p.due_on);
  if (dated.length === 0) return null;
  return (
    <ul class="phone-messages">
      {dated.map((p) => (
        <li key={p.id}>
          <p>
            {words.promise[p.kind]} {words.by(p.due_on)}
          </p>
          {p.text && <p class="phone-note">{p.text}</p>}
        </li>
      ))}
    </ul>
  );
}
