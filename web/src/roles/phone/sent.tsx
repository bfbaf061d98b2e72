import { formats } from "../../i18n/format";
import type { Entry } from "../../offline/entry";
import { again, discard, entries } from "../../offline/outbox";
import { EntryState } from "../../shell/sending-line";
import { Button } from "../../ui/button";
import { Gate } from "./gate";
import { SentMedia } from "./media";
import { phoneWords } from "./words";

/** Sent lists what was entered on this phone, newest first: kept, sent, or refused and why. */
export function Sent() {
  const words = phoneWords().sent;
  return (
    <Gate title={words.title}>
      {() => (
        <>
          {entries.value.length === 0 && <p>{words.none}</p>}
          <ul class="phone-messages">
            {[...entries.value].reverse().map((entry) => (
              <Line key={entry.id} entry={entry} />
            ))}
          </ul>
          <SentMedia />
        </>
      )}
    </Gate>
  );
}

function Line({ entry }: { entry: Entry }) {
  const words = phoneWords().sent;
  const { dateTime } = formats();
  return (
    <li>
      <p>{entry.what}</p>
      <p class="phone-note">
        {dateTime(entry.at)}: <EntryState entry={entry} />
      </p>
      {entry.problem && (
        <>
          <p>
            {words.refused} {reasonOf(entry.problem)}
          </p>
          <p class="phone-pair">
            <Button onClick={() => void again(entry)}>{words.again}</Button>
            <Button onClick={() => void discard(entry)}>{words.discard}</Button>
          </p>
        </>
      )}
    </li>
  );
}

/** reasonOf puts a refusal into words: the field's own where we have them, else the whole's. */
export function reasonOf({ code, text, fields }: NonNullable<Entry["problem"]>): string {
  const { problems } = phoneWords();
  const field = fields.map((f) => problems[f.code]).find(Boolean);
  return field ?? problems[code] ?? text;
}
