import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { judge, type Ruling, type Stock } from "../../daybook/judge";
import { formats } from "../../i18n/format";
import type { PageProps } from "../../shell/page-list";
import { SelectField } from "../../ui/choice";
import { TextArea } from "../../ui/field";
import { Trouble } from "../../ui/states";
import type { BookField, BookGroup, TodayUnit } from "./compose";
import { type Data, say } from "./entry";
import { FieldOf, type Values } from "./fields";
import { Gate } from "./gate";
import { Attach } from "./media";
import type { Day, View } from "./overlay";
import { BigButton, Row, Rows, useFields, useKeeping } from "./parts";
import { NamedPicture, Picture } from "./pictures";
import { walk } from "./walk";
import { phoneWords } from "./words";

/** Daybook asks for what the pack wants to know of a day; everything may stay empty. */
export function Daybook({ params }: PageProps) {
  const words = phoneWords().daybook;
  return (
    <Gate title={(farm) => words.of(params.on ?? farm.on)}>
      {(farm) => <DayForm farm={farm} on={params.on ?? farm.on} />}
    </Gate>
  );
}

function DayForm({ farm, on }: { farm: View; on: string }) {
  const alike = farm.units.every((u) => u.enterprise === farm.units[0]?.enterprise);
  const [chosen, setChosen] = useState(alike ? "" : (farm.units[0]?.id ?? ""));
  const units = chosen ? farm.units.filter((u) => u.id === chosen) : farm.units;
  const before = farm.days.filter((d) => d.on === on && (d.unit_id ?? "") === chosen).pop();
  return (
    <>
      <p>{before ? phoneWords().daybook.mends : phoneWords().daybook.blank}</p>
      <UnitField farm={farm} unit={chosen} whole={alike} onUnit={setChosen} />
      <DayFields
        key={`${chosen} ${before?.id}`}
        farm={farm}
        on={on}
        unit={chosen}
        units={units}
        before={before}
      />
    </>
  );
}

interface Form {
  farm: View;
  on: string;
  /** "" for the whole farm. */
  unit: string;
  units: readonly TodayUnit[];
  before: Day | undefined;
}

function DayFields({ farm, on, unit, units, before }: Form) {
  const words = phoneWords();
  const { route } = useLocation();
  const groups = units[0]?.groups ?? [];
  const [values, setValues] = useState<Values>(() => valuesOf(before, groups));
  const [note, setNote] = useState(text(before?.data.note));
  const [media, setMedia] = useState<string[]>([]);
  const [empty, setEmpty] = useState(false);
  const [asked, setAsked] = useState<Asked[]>([]);
  const { busy, error, keep } = useKeeping();
  const { box, complete } = useFields();
  const stock = stockOf(units);
  const held =
    units
      .map((u) => u.no_sale_until ?? "")
      .sort()
      .pop() ?? "";
  const set = (key: string, value: Values[string]) => {
    setValues((old) => ({ ...old, [key]: value }));
    setAsked([]);
  };
  const save = (sure: readonly string[]) => {
    if (!complete(true)) return;
    const data = { ...counted(values, note, sure), ...(media.length > 0 ? { media } : {}) };
    setEmpty(Object.keys(data).length === 0);
    if (Object.keys(data).length === 0) return;
    const doubts = doubtsOf(groups, values, stock, held >= on ? held : "");
    if (sure.length === 0 && doubts.length > 0) return setAsked(doubts);
    keep(
      () => say({ farm, kind: "day", data, on, unit, replaces: before?.id, what: words.daybook.what(on) }),
      () => route(walk.value),
    );
  };
  return (
    <div ref={box}>
      {error !== null && <Trouble error={error} />}
      {groups.map((group) => (
        <Group
          key={group.key}
          group={group}
          values={values}
          stock={stock}
          heldUntil={held >= on ? held : ""}
          onValue={set}
        />
      ))}
      {units.length === 1 && units[0]?.cycle_id && farm.stocked && (
        <Rows>
          <Row
            href={`/today/weigh/${units[0].cycle_id}`}
            picture={<Picture of="weigh" />}
            title={words.weigh.title}
          />
        </Rows>
      )}
      <TextArea label={words.note} value={note} onValue={setNote} maxLength={1000} optional />
      <Attach farm={farm.id} slot={`day ${on} ${unit}`} voice onMedia={setMedia} />
      {empty && <p role="alert">{words.daybook.nothing}</p>}
      {asked.length > 0 ? (
        <AskBack
          asked={asked}
          busy={busy}
          onSure={() => save(asked.map((a) => a.key))}
          onChange={() => setAsked([])}
        />
      ) : (
        <BigButton kind="main" busy={busy} picture={<Picture of="well" />} onClick={() => save([])}>
          {words.save}
        </BigButton>
      )}
    </div>
  );
}

function Group({
  group,
  values,
  stock,
  heldUntil,
  onValue,
}: {
  group: BookGroup;
  values: Values;
  stock: Stock;
  heldUntil: string;
  onValue: (key: string, value: Values[string]) => void;
}) {
  const words = phoneWords().daybook;
  const fields = (
    <>
      {group.key === "harvest" && heldUntil && <p class="phone-caution">{words.noSale(heldUntil)}</p>}
      {group.fields.map((f) => (
        <FieldOf
          key={f.key}
          field={f}
          value={values[f.key] ?? null}
          stock={stock}
          onValue={(v) => onValue(f.key, v)}
        />
      ))}
    </>
  );
  if (!group.folded) return fields;
  return (
    <details class="phone-more" open={group.fields.some((f) => (values[f.key] ?? null) !== null)}>
      <summary>
        <NamedPicture of={group.drawing} /> {group.name}
      </summary>
      {fields}
    </details>
  );
}

/** A value that is asked back, in words. */
interface Asked {
  key: string;
  text: string;
}

function AskBack({
  asked,
  busy,
  onSure,
  onChange,
}: {
  asked: readonly Asked[];
  busy: boolean;
  onSure: () => void;
  onChange: () => void;
}) {
  const words = phoneWords().daybook;
  return (
    <section class="phone-card" role="alert">
      <h2>{words.askBack}</h2>
      {asked.map((a) => (
        <p key={a.key} class="phone-first">
          {a.text}
        </p>
      ))}
      <BigButton kind="main" busy={busy} picture={<Picture of="well" />} onClick={onSure}>
        {words.right}
      </BigButton>
      <BigButton picture={<Picture of="cannot" />} onClick={onChange}>
        {words.wrong}
      </BigButton>
    </section>
  );
}

// What is unlikely, and what was taken out while a treatment forbids its sale.
function doubtsOf(groups: readonly BookGroup[], values: Values, stock: Stock, heldUntil: string): Asked[] {
  const words = phoneWords().daybook;
  const { number } = formats();
  return groups.flatMap((g) =>
    g.fields.flatMap((f) => {
      const value = values[f.key];
      if (typeof value !== "number") return [];
      if (g.key === "harvest" && heldUntil && value > 0)
        return [{ key: f.key, text: words.noSale(heldUntil) }];
      const ruling: Ruling = judge(f.bounds ?? {}, value, stock);
      return ruling.verdict === "unlikely"
        ? [{ key: f.key, text: words.sure(f.name, number(value, 2)) }]
        : [];
    }),
  );
}

/** stockOf is how many animals the values of these units are held against. */
export function stockOf(units: readonly TodayUnit[]): Stock {
  const all = units.map((u) => u.animals);
  // Where one is not known, the sum would be too small.
  if (all.some((a) => !a?.put_in)) return {};
  const sum = (of: (s: Stock) => number | undefined) => all.reduce((n, a) => n + (a ? (of(a) ?? 0) : 0), 0);
  return { put_in: sum((a) => a.put_in), living: sum((a) => a.living) };
}

/** counted is what was filled in; an empty field is left out, for empty is not zero. */
export function counted(values: Values, note: string, sure: readonly string[] = []): Data["day"] {
  const filled = Object.entries(values).filter(([, v]) => v !== null && v !== "");
  return {
    ...Object.fromEntries(filled),
    ...(note.trim() ? { note: note.trim() } : {}),
    ...(sure.length > 0 ? { sure: [...sure] } : {}),
  };
}

const text = (v: unknown) => (typeof v === "string" ? v : "");

// A day that was told is mended from what it said; "all well" said that nothing had died.
function valuesOf(before: Day | undefined, groups: readonly BookGroup[]): Values {
  if (!before) return {};
  const known = (f: BookField) => {
    const v = before.data[f.key];
    return typeof v === "number" || typeof v === "string" ? [[f.key, v] as const] : [];
  };
  const told = Object.fromEntries(groups.flatMap((g) => g.fields).flatMap(known));
  return before.data.all_well === true ? { deaths: 0, ...told } : told;
}

function UnitField({
  farm,
  unit,
  whole,
  onUnit,
}: {
  farm: View;
  unit: string;
  whole: boolean;
  onUnit: (unit: string) => void;
}) {
  const words = phoneWords().daybook;
  if (farm.units.length < 2) return null;
  const options = farm.units.map((u) => ({ value: u.id, label: u.name }));
  return (
    <SelectField
      label={words.unit}
      {...(whole ? { blank: words.wholeFarm } : {})}
      options={options}
      value={unit}
      onValue={onUnit}
    />
  );
}

/** PastDays are the days of the last two weeks: those without a daybook, and those that can be mended. */
export function PastDays() {
  const words = phoneWords().daybook;
  const { date } = formats();
  const row = (on: string, written: boolean) => (
    <Row
      key={on}
      kind={written ? "done" : "plain"}
      href={`/today/daybook/${on}`}
      picture={<Picture of={written ? "well" : "book"} />}
      title={date(on)}
      note={written ? words.mend : undefined}
    />
  );
  return (
    <Gate title={words.missingTitle}>
      {(farm) => {
        const written = [...new Set(farm.days.map((d) => d.on))].filter((on) => on < farm.on);
        const days = [...new Set([...written, ...(farm.missing_days as string[])])].sort().reverse();
        return (
          <>
            <p>{words.missingHelp}</p>
            {days.length === 0 && <p>{phoneWords().todo.nothing}</p>}
            <Rows>{days.map((on) => row(on, written.includes(on)))}</Rows>
          </>
        );
      }}
    </Gate>
  );
}
