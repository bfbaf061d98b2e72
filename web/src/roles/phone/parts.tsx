import type { ComponentChildren, Ref } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { formats } from "../../i18n/format";
import { language } from "../../i18n/language";
import { shared } from "../../i18n/shared/words";
import type { Entry } from "../../offline/entry";
import { DateField } from "../../ui/date-field";
import { TextArea } from "../../ui/field";
import { Trouble } from "../../ui/states";
import { say } from "./entry";
import type { View } from "./overlay";
import { Picture } from "./pictures";
import { phoneWords } from "./words";

/** Row is one thing that can be done: a picture, a few words, and what there is to know of it. */
export function Row({
  href,
  picture,
  title,
  note,
  kind = "plain",
}: {
  href: string;
  picture: ComponentChildren;
  title: string;
  note?: ComponentChildren;
  kind?: "plain" | "danger" | "done";
}) {
  return (
    <li>
      <a class={`phone-row phone-row-${kind}`} href={href}>
        {picture}
        <span>
          {title}
          {note && <span class="phone-note">{note}</span>}
        </span>
      </a>
    </li>
  );
}

/** Rows are things that can be done, one under the other. */
export function Rows({ children }: { children: ComponentChildren }) {
  return <ul class="phone-rows">{children}</ul>;
}

/** Well says "all well today: no deaths" in one press; once the day has its daybook, that. */
export function Well({ farm }: { farm: View }) {
  const words = phoneWords();
  const { busy, error, keep } = useKeeping();
  if (farm.written_on.includes(farm.on)) {
    return (
      <p class="phone-kept">
        <Picture of="well" /> {words.well.kept}
      </p>
    );
  }
  const well = () =>
    keep(() => say({ farm, kind: "day", data: { all_well: true }, what: words.daybook.whatWell(farm.on) }));
  return (
    <>
      {error !== null && <Trouble error={error} />}
      <BigButton kind="main" busy={busy} picture={<Picture of="well" />} onClick={well}>
        {farm.stocked ? words.well.stocked : words.well.empty}
      </BigButton>
    </>
  );
}

/** Progress is how much of the day is done, in words and as a line. */
export function Progress({ farm, open }: { farm: View; open: number }) {
  const words = phoneWords().todo;
  const all = farm.doneToday + open;
  if (all === 0) return null;
  return (
    <p class="phone-progress">
      <progress max={all} value={farm.doneToday} aria-label={words.progress(farm.doneToday, open)} />
      <span>{words.progress(farm.doneToday, open)}</span>
    </p>
  );
}

/** BigButton is one press that does a thing. */
export function BigButton({
  picture,
  kind = "plain",
  busy,
  onClick,
  children,
}: {
  picture?: ComponentChildren;
  kind?: "main" | "plain" | "danger";
  busy?: boolean;
  onClick: () => void;
  children: ComponentChildren;
}) {
  return (
    <button
      type="button"
      class={`phone-row phone-button button-${kind}`}
      aria-busy={busy ? "true" : undefined}
      onClick={() => !busy && onClick()}
    >
      {picture}
      <span>{children}</span>
    </button>
  );
}

/** Keeping is a press under way: one at a time, and what went wrong the last time. */
export interface Keeping {
  busy: boolean;
  error: unknown;
  keep: (work: () => Promise<Entry>, after?: (kept: Entry) => void) => void;
}

/**
 * useKeeping keeps an entry and goes on once it is on the disk. What became of
 * it stands in the line of sending, which lies over nothing.
 */
export function useKeeping(): Keeping {
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<unknown>(null);
  useEffect(() => {
    // What was pressed may stand a long way below the words.
    if (error !== null) document.querySelector("main .trouble")?.scrollIntoView?.({ block: "center" });
  }, [error]);
  const keep: Keeping["keep"] = (work, after) => {
    if (busy) return;
    setBusy(true);
    setError(null);
    work()
      .then((kept) => after?.(kept))
      .catch(setError)
      .finally(() => setBusy(false));
  };
  return { busy, error, keep };
}

/** Fields are those of one entry: nothing is kept while one of them is wrong or empty that may not be. */
export interface Fields {
  /** Frames the fields. */
  box: Ref<HTMLDivElement>;
  /** What an empty field that may not be empty says, once somebody pressed. */
  needed: (empty: boolean) => string | undefined;
  /** Whether all is there; else it goes to the field that is not. */
  complete: (needs: boolean) => boolean;
}

/** useFields holds a press back while something is wrong: what was typed is never left out in silence. */
export function useFields(): Fields {
  const box = useRef<HTMLDivElement>(null);
  const [pressed, setPressed] = useState(false);
  const wrong = () => box.current?.querySelector<HTMLElement>("[aria-invalid=true]");
  return {
    box,
    needed: (empty) => (pressed && empty ? shared().field.required : undefined),
    complete: (needs) => {
      const right = !wrong();
      if (right) setPressed(!needs);
      // What is missing is marked with the next drawing.
      requestAnimationFrame(() => wrong()?.focus());
      return needs && right;
    },
  };
}

/** afterToday is what a day says that has not come yet, or that is none. */
export function afterToday(on: string, farm: View): string | undefined {
  if (on === "") return shared().field.required;
  return on > farm.on ? phoneWords().notYet : undefined;
}

/** Words are what may stand beside an entry: another day than today, and a note. */
export interface Words {
  on: string;
  note: string;
}

/** OtherDay asks for another day and a few words, folded away, for most entries need neither. */
export function OtherDay({
  farm,
  said,
  onSaid,
  note = true,
}: {
  farm: View;
  said: Words;
  onSaid: (said: Words) => void;
  note?: boolean;
}) {
  const words = phoneWords();
  const { date } = formats();
  return (
    <details class="phone-more">
      <summary>
        {note ? words.otherDay : words.onDay} ({said.on === farm.on ? words.today : date(said.on)})
      </summary>
      <DateField
        label={words.onDay}
        value={said.on}
        onValue={(on) => onSaid({ ...said, on })}
        max={farm.on}
        error={afterToday(said.on, farm)}
        quick
      />
      {note && (
        <TextArea
          label={words.note}
          value={said.note}
          onValue={(text) => onSaid({ ...said, note: text })}
          maxLength={1000}
          optional
        />
      )}
    </details>
  );
}

/** CallLinks are the numbers of the firm, to call or to text; `about` stands in the text. */
export function CallLinks({ farm, now = false, about }: { farm: View; now?: boolean; about?: string }) {
  const words = phoneWords().sign;
  if (farm.advisors.length === 0) return <p>{words.noNumber}</p>;
  const body = encodeURIComponent(words.smsBody(farm.name, about ?? phoneWords().help.whatBack));
  return (
    <ul class="phone-rows">
      {farm.advisors.map((a) => (
        <li key={a.phone}>
          <a class={`phone-row ${now ? "phone-row-call" : ""}`} href={`tel:${a.phone}`}>
            <Picture of="call" />
            <span>
              {now ? words.callNow(a.name) : words.call(a.name)}
              <span class="phone-note">{a.phone}</span>
            </span>
          </a>
        </li>
      ))}
      {farm.advisors.slice(0, 1).map((a) => (
        <li key={`sms ${a.phone}`}>
          <a class="phone-row" href={`sms:${a.phone}?body=${body}`}>
            <Picture of="text" />
            <span>{words.sms(a.name)}</span>
          </a>
        </li>
      ))}
    </ul>
  );
}

/** Listen reads a text aloud where the phone has a voice for the language; else it is not there. */
export function Listen({ text }: { text: string }) {
  const words = phoneWords();
  const [speaking, setSpeaking] = useState(false);
  const speech = globalThis.speechSynthesis;
  const voice = useVoices().find((v) => v.lang.startsWith(language.value));
  if (!voice) return null;
  const press = () => {
    speech.cancel();
    setSpeaking(!speaking);
    if (speaking) return;
    const said = new SpeechSynthesisUtterance(text);
    said.voice = voice;
    said.lang = voice.lang;
    said.onend = () => setSpeaking(false);
    speech.speak(said);
  };
  return (
    <button type="button" class="button button-plain" onClick={press}>
      {speaking ? words.stop : words.listen}
    </button>
  );
}

// A phone tells its voices late: the first answer is an empty list as a rule.
function useVoices(): readonly SpeechSynthesisVoice[] {
  const speech = globalThis.speechSynthesis;
  const [voices, setVoices] = useState<readonly SpeechSynthesisVoice[]>(() => speech?.getVoices() ?? []);
  useEffect(() => {
    const look = () => setVoices(speech.getVoices());
    speech?.addEventListener?.("voiceschanged", look);
    return () => speech?.removeEventListener?.("voiceschanged", look);
  }, []);
  return voices;
}
