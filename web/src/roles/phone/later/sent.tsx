import { useState } from "preact/hooks";
import { formats } from "../../../i18n/format";
import { shared } from "../../../i18n/shared/words";
import type { Entry, Refusal, SealedEntry } from "../../../offline/entry";
import { again, discard, entries, shut } from "../../../offline/outbox";
import { EntryState } from "../../../shell/sending-line";
import { Button } from "../../../ui/button";
import { DateField } from "../../../ui/date-field";
import { today } from "../data";
import { type FarmEntry, farmEntryOf } from "../entry";
import { Gate } from "../gate";
import { SentMedia } from "../media";
import type { View } from "../overlay";
import { afterToday, Row, Rows } from "../parts";
import { Picture } from "../pictures";
import { phoneWords } from "../words";
import { costOf, used } from "./use";
import { laterWords } from "./words";

/** Sent lists what was entered on this phone, newest first: kept, sent, seen and by whom, or refused and why. */
export function Sent() {
  const words = laterWords();
  return (
    <Gate title={phoneWords().sent.title}>
      {(farm) => (
        <>
          <Use />
          {entries.value.length + shut.value.length === 0 && <p>{words.sent.none}</p>}
          <ul class="phone-messages">
            {shut.value.map((entry) => (
              <Shut key={entry.id} entry={entry} />
            ))}
            {[...entries.value].reverse().map((entry) => (
              <Line key={entry.id} entry={entry} farm={farm} />
            ))}
          </ul>
          <SentMedia />
          <Rows>
            <Row href="/today/reads" picture={<Picture of="reports" />} title={words.reads.title} />
          </Rows>
        </>
      )}
    </Gate>
  );
}

// What sending will cost, and what was used so far: data is prepaid.
function Use() {
  const words = laterWords().use;
  const open = entries.value.filter((e) => e.state === "kept");
  const sealed = shut.value.filter((e) => !e.problem);
  const size = (bytes: number) =>
    bytes < 950_000
      ? words.kilobytes(Math.max(1, Math.round(bytes / 1000)))
      : words.megabytes(bytes / 1_000_000);
  const waiting = open.length + sealed.length;
  return (
    <>
      {waiting > 0 && <p>{words.before(waiting, size(costOf(open, sealed)))}</p>}
      {used.value.bytes > 0 && <p class="phone-note">{words.month(size(used.value.bytes))}</p>}
    </>
  );
}

function Line({ entry, farm }: { entry: Entry; farm: View }) {
  const words = laterWords().sent;
  const { dateTime } = formats();
  const seen = entry.state === "sent" && sightOf(entry.id);
  return (
    <li>
      <p>{entry.what}</p>
      <p class="phone-note">
        {dateTime(entry.at, farm.time_zone)},{" "}
        {seen ? words.saw(seen.by, seen.at, farm.time_zone) : <EntryState entry={entry} />}
      </p>
      {entry.problem && (
        <>
          <p>
            {words.refused} {reasonOf(entry.problem)}
          </p>
          <Mend entry={entry} farm={farm} problem={entry.problem} />
        </>
      )}
    </li>
  );
}

function sightOf(id: string): { by: string; at: string } | undefined {
  // An answer that an earlier release kept does not tell.
  return today.now().value?.seen?.find((s) => s.entries.includes(id));
}

function Shut({ entry }: { entry: SealedEntry }) {
  const words = laterWords().sent;
  return (
    <li>
      <p>{words.sealed(entry.at)}</p>
      {entry.problem && (
        <>
          <p>
            {words.refused} {reasonOf(entry.problem)}
          </p>
          <p class="phone-pair">
            <Button onClick={() => void discard(entry)}>{words.discard}</Button>
          </p>
        </>
      )}
    </li>
  );
}

// A day that cannot be is put right here; anything else where it was entered.
function Mend({ entry, farm, problem }: { entry: Entry; farm: View; problem: Refusal }) {
  const words = laterWords().sent;
  const said = farmEntryOf(entry);
  const [on, setOn] = useState(said?.on ?? "");
  const dayIsWrong = said && problem.fields.some((f) => f.path === "on");
  const wrong = afterToday(on, farm);
  const form = said && formOf(said);
  return (
    <>
      {dayIsWrong && (
        <DateField label={words.anotherDay} value={on} onValue={setOn} max={farm.on} error={wrong} quick />
      )}
      <p class="phone-pair">
        {dayIsWrong ? (
          <Button onClick={() => !wrong && void again(entry, { ...said, on })}>{words.sendThatDay}</Button>
        ) : (
          <Button onClick={() => void again(entry)}>{words.again}</Button>
        )}
        {!dayIsWrong && form && (
          <a class="button button-plain" href={form}>
            {words.anew}
          </a>
        )}
        <Button onClick={() => void discard(entry)}>{words.discard}</Button>
      </p>
    </>
  );
}

// Where the same can be entered again.
function formOf(said: FarmEntry): string | undefined {
  switch (said.kind) {
    case "day":
      return `/today/daybook/${said.on}`;
    case "could-not":
      return "/today/could-not";
    case "trouble":
      return "/today/trouble";
    case "call-me":
      return "/today/help";
    case "cover":
      return `/today/reading/${said.cycle_id}`;
    case "weights":
      return `/today/weigh/${said.cycle_id}`;
    case "milestone":
      return `/today/milestone/${said.cycle_id}/${(said as FarmEntry<"milestone">).data.milestone}`;
    default:
      return undefined;
  }
}

/** reasonOf puts a refusal into words: the field's own where we have them, else the whole's, else the server's. */
export function reasonOf({ code, text, fields }: Refusal): string {
  const problems = { ...shared().problems, ...laterWords().problems };
  const field = fields.map((f) => problems[f.code]).find(Boolean);
  return field ?? problems[code] ?? text;
}
