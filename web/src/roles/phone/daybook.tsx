import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { formats } from "../../i18n/format";
import { entries } from "../../offline/outbox";
import type { PageProps } from "../../shell/page-list";
import { SelectField } from "../../ui/choice";
import { TextArea } from "../../ui/field";
import { NumberField } from "../../ui/number-field";
import { Trouble } from "../../ui/states";
import { couldNotReasons, type Data, farmEntryOf, type Reason, say } from "./entry";
import { Gate } from "./gate";
import type { View } from "./overlay";
import { BigButton, OtherDay, Row, Rows, useFields, useKeeping } from "./parts";
import { Picture } from "./pictures";
import { phoneWords } from "./words";

/** Daybook asks for the counts of a day; every one of them may stay empty. */
export function Daybook({ params }: PageProps) {
  const words = phoneWords().daybook;
  return (
    <Gate title={(farm) => words.of(params.on ?? farm.on)}>
      {(farm) => <DayForm farm={farm} on={params.on ?? farm.on} />}
    </Gate>
  );
}

type Counts = Record<"deaths" | "missing" | "eggs" | "hatchlings" | "feed_kg" | "water_l", number | null>;

const blank: Counts = {
  deaths: null,
  missing: null,
  eggs: null,
  hatchlings: null,
  feed_kg: null,
  water_l: null,
};

/** counted is what was filled in; an empty field is left out, for empty is not zero. */
export function counted(counts: Counts, note: string): Data["day"] {
  const filled = Object.entries(counts).filter(([, n]) => n !== null);
  return { ...Object.fromEntries(filled), ...(note.trim() ? { note: note.trim() } : {}) };
}

function DayForm({ farm, on }: { farm: View; on: string }) {
  const words = phoneWords().daybook;
  const { route } = useLocation();
  const [counts, setCounts] = useState(blank);
  const [note, setNote] = useState("");
  const [unit, setUnit] = useState("");
  const [empty, setEmpty] = useState(false);
  const { busy, error, keep } = useKeeping();
  const { box, complete } = useFields();
  const set = (name: keyof Counts) => (n: number | null) => setCounts((old) => ({ ...old, [name]: n }));
  const save = () => {
    if (!complete(true)) return;
    const data = counted(counts, note);
    setEmpty(Object.keys(data).length === 0);
    if (Object.keys(data).length === 0) return;
    const replaces = lastOf(farm.id, on, unit);
    keep(
      () => say({ farm, kind: "day", data, on, unit, replaces, what: words.what(on) }),
      () => route("/today"),
    );
  };
  return (
    <div ref={box}>
      <p>{words.blank}</p>
      {error !== null && <Trouble error={error} />}
      <UnitField farm={farm} unit={unit} onUnit={setUnit} />
      <Count label={words.deaths} value={counts.deaths} onValue={set("deaths")} none />
      <Count label={words.missing} value={counts.missing} onValue={set("missing")} none />
      <NumberField
        label={words.feed}
        measure="kg"
        value={counts.feed_kg}
        onValue={set("feed_kg")}
        min={0}
        max={100_000}
        optional
      />
      <NumberField
        label={words.water}
        measure="l"
        value={counts.water_l}
        onValue={set("water_l")}
        min={0}
        max={100_000}
        optional
      />
      <details class="phone-more">
        <summary>{words.young}</summary>
        <Count label={words.eggs} value={counts.eggs} onValue={set("eggs")} />
        <Count label={words.hatchlings} value={counts.hatchlings} onValue={set("hatchlings")} />
      </details>
      <TextArea label={phoneWords().note} value={note} onValue={setNote} maxLength={1000} optional />
      {empty && <p role="alert">{words.nothing}</p>}
      <BigButton kind="main" busy={busy} picture={<Picture of="well" />} onClick={save}>
        {phoneWords().save}
      </BigButton>
    </div>
  );
}

// Nobody has to type a zero: "none" is a press.
function Count({
  label,
  value,
  onValue,
  none,
}: {
  label: string;
  value: number | null;
  onValue: (value: number | null) => void;
  none?: boolean;
}) {
  const words = phoneWords().daybook;
  return (
    <div class="phone-count">
      <NumberField label={label} value={value} onValue={onValue} min={0} max={1_000_000} whole optional />
      {none && (
        <button
          type="button"
          class="button button-plain"
          aria-label={words.noneOf(label)}
          aria-pressed={value === 0}
          onClick={() => onValue(0)}
        >
          {words.none}
        </button>
      )}
    </div>
  );
}

function UnitField({ farm, unit, onUnit }: { farm: View; unit: string; onUnit: (unit: string) => void }) {
  const words = phoneWords().daybook;
  if (farm.units.length < 2) return null;
  return (
    <SelectField
      label={words.unit}
      blank={words.wholeFarm}
      options={farm.units.map((u) => ({ value: u.id, label: u.name }))}
      value={unit}
      onValue={onUnit}
    />
  );
}

// A second daybook of one day corrects the first one of this phone.
function lastOf(farm: string, on: string, unit: string): string | undefined {
  const same = entries
    .peek()
    .filter((e) => e.state !== "needs-you")
    .map(farmEntryOf)
    .filter((e) => e?.kind === "day" && e.farm_id === farm && e.on === on && (e.unit_id ?? "") === unit);
  return same[same.length - 1]?.id;
}

/** MissingDays are the days of the last week without a daybook. */
export function MissingDays() {
  const words = phoneWords().daybook;
  const { date } = formats();
  return (
    <Gate title={words.missingTitle}>
      {(farm) => (
        <>
          <p>{words.missingHelp}</p>
          {farm.missing_days.length === 0 && <p>{phoneWords().todo.nothing}</p>}
          <Rows>
            {[...farm.missing_days].reverse().map((on) => (
              <Row key={on} href={`/today/daybook/${on}`} picture={<Picture of="book" />} title={date(on)} />
            ))}
          </Rows>
        </>
      )}
    </Gate>
  );
}

const reasonPictures = {
  "no-feed": "feed",
  "no-water": "tap",
  rain: "rain",
  ill: "ill",
  other: "other",
} as const;

/** CouldNot says that the day's work was not done, and why; the firm sees a reason, not a gap. */
export function CouldNot() {
  return <Gate title={phoneWords().couldNot.title}>{(farm) => <WhyNot farm={farm} />}</Gate>;
}

function WhyNot({ farm }: { farm: View }) {
  const words = phoneWords().couldNot;
  const { route } = useLocation();
  const [said, setSaid] = useState({ on: farm.on, note: "" });
  const { busy, error, keep } = useKeeping();
  const { box, complete } = useFields();
  const because = (reason: Reason) => {
    if (!complete(true)) return;
    const note = said.note.trim();
    keep(
      () =>
        say({
          farm,
          kind: "could-not",
          data: { reason, ...(note ? { note } : {}) },
          on: said.on,
          what: words.what(said.on, words.reasons[reason]),
        }),
      () => route("/today"),
    );
  };
  return (
    <div ref={box}>
      <p>{words.ask}</p>
      {error !== null && <Trouble error={error} />}
      {couldNotReasons.map((reason) => (
        <BigButton
          key={reason}
          busy={busy}
          picture={<Picture of={reasonPictures[reason]} />}
          onClick={() => because(reason)}
        >
          {words.reasons[reason]}
        </BigButton>
      ))}
      <OtherDay farm={farm} said={said} onSaid={setSaid} />
    </div>
  );
}
