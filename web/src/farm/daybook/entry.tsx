import { useEffect, useRef, useState } from "preact/hooks";
import type { Pack } from "../../api/types";
import type { Stock } from "../../daybook/judge";
import { formats } from "../../i18n/format";
import { language } from "../../i18n/language";
import { shared } from "../../i18n/shared/words";
import { uuidv7 } from "../../offline/uuid";
import { Button } from "../../ui/button";
import { SelectField } from "../../ui/choice";
import { Trouble } from "../../ui/states";
import { toast } from "../../ui/toast";
import { keepDraft, withDraft } from "./draft";
import { Grid, lineName } from "./grid";
import { sendPage } from "./send";
import {
  type Column,
  changed,
  columnsOf,
  type DaybookPage,
  dataOf,
  type Fault,
  faultsOf,
  type Line,
  linesOf,
  readCell,
  type Wrong,
} from "./sheet";
import { sheetWords } from "./words";

/** Entry is the page under the clerk's hands: fourteen days, saved at once. */
export function Entry({ page, pack }: { page: DaybookPage; pack: Pack }) {
  const words = sheetWords().entry;
  const [lines] = useState(() => linesOf(pack));
  const [columns, setColumns] = useState(() => columnsOf(page, lines, uuidv7, language.peek()));
  const [writer, setWriter] = useState(page.people.find((p) => p.in_charge)?.id ?? page.people[0]?.id ?? "");
  const touched = useRef(false);
  const [drafted, setDrafted] = useState(false);
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<unknown>(null);
  const stock: Stock = page.animals ?? {};
  const lang = language.value;
  useEffect(() => {
    void withDraft(page.unit_id, page.from, columns).then((found) => {
      if (touched.current || !found.some(changed)) return;
      setColumns(found);
      setDrafted(true);
    });
  }, []);
  const change = (next: Column[]) => {
    touched.current = true;
    setColumns(next);
    void keepDraft(page.unit_id, page.from, next);
  };
  const onTyped = (on: string, line: Line, text: string) => {
    const typed = (c: Column): Column => ({
      ...c,
      typed: { ...c.typed, [line.key]: text },
      sure: c.sure.filter((key) => key !== line.key),
      refused: without(c.refused, line.key),
    });
    change(columns.map((c) => (c.on === on ? typed(c) : c)));
  };
  const faults = faultsOf(columns, lines, stock, lang);
  const open = columns.filter(changed);
  const mean = (meant: readonly Fault[]) =>
    change(columns.map((c) => ({ ...c, sure: [...c.sure, ...keysOn(meant, c.on)] })));
  const save = async () => {
    if (busy || open.length === 0 || faults.length > 0 || !writer) return;
    setBusy(true);
    setError(null);
    try {
      const data = (c: Column) => dataOf(c, lines, stock, lang, writer);
      const after = await sendPage(page, columns, data, uuidv7);
      change(after);
      setDrafted(false);
      const left = after.filter(changed).length;
      if (open.length > left) toast(words.saved(open.length - left));
    } catch (wrong) {
      setError(wrong);
    }
    setBusy(false);
  };
  if (page.people.length === 0) return <p class="empty">{words.nobody}</p>;
  return (
    <>
      <SelectField
        label={words.writtenBy}
        options={page.people.map((p) => ({ value: p.id, label: p.name }))}
        value={writer}
        onValue={setWriter}
      />
      <p>{words.help}</p>
      <p class="minor">{words.keys}</p>
      {drafted && <p role="status">{words.drafted}</p>}
      <Grid
        lines={lines}
        columns={columns}
        today={page.today}
        caption={words.grid(page.from, page.to)}
        read={(line, column) => readCell(line, column, stock, lang)}
        onTyped={onTyped}
        onSave={() => void save()}
      />
      <Whole page={page} />
      <Faults faults={faults} columns={columns} onSure={mean} />
      <Refused columns={columns} lines={lines} />
      {error !== null && <Trouble error={error} texts={sheetWords().problems} />}
      <p>
        <Button
          kind="main"
          busy={busy}
          disabled={open.length === 0 || faults.length > 0}
          onClick={() => void save()}
        >
          {open.length > 0 ? words.saving(open.length) : words.save}
        </Button>
      </p>
    </>
  );
}

function without(all: Readonly<Record<string, string>>, key: string): Record<string, string> {
  const { [key]: _, "": whole, ...others } = all;
  return others;
}

const keysOn = (faults: readonly Fault[], on: string) =>
  faults.filter((f) => f.on === on).map((f) => f.line.key);

// A word about the whole farm does not fill the unit's cells; whoever types should know of it.
function Whole({ page }: { page: DaybookPage }) {
  const days = page.days.filter((d) => d.whole).map((d) => formats().date(d.on));
  if (days.length === 0) return null;
  return <p>{sheetWords().entry.whole(days.join(", "))}</p>;
}

function Faults({
  faults,
  columns,
  onSure,
}: {
  faults: readonly Fault[];
  columns: readonly Column[];
  onSure: (meant: readonly Fault[]) => void;
}) {
  const words = sheetWords().entry;
  if (faults.length === 0) return null;
  const doubts = faults.filter((f) => f.wrong.code === "unlikely");
  const typed = (f: Fault) => columns.find((c) => c.on === f.on)?.typed[f.line.key] ?? "";
  return (
    <section class="sheet-faults" aria-live="polite">
      <h3>{words.look}</h3>
      <ul>
        {faults.map((f) => {
          const what = words.cell(lineName(f.line), f.on);
          return (
            <li key={what}>
              <strong>{what}</strong>: {wrongWords(f.wrong, typed(f))}{" "}
              {f.wrong.code === "unlikely" && (
                <Button aria-label={words.sureOf(`${what}, ${typed(f)}`)} onClick={() => onSure([f])}>
                  {words.sure}
                </Button>
              )}
            </li>
          );
        })}
      </ul>
      {doubts.length > 1 && <Button onClick={() => onSure(doubts)}>{words.allSure}</Button>}
    </section>
  );
}

function wrongWords(wrong: Wrong, typed: string): string {
  const words = sheetWords().wrong;
  switch (wrong.code) {
    case "not-both":
      return words["not-both"];
    case "not-a-number":
    case "no-answer":
    case "no-day":
      return words[wrong.code](typed);
    case "unlikely":
      return words.unlikely(typed);
    default: {
      const { why, limit = 0 } = wrong.ruling;
      if (why === "not-whole") return words.whole;
      if (why === "over-stock") return words.stock(limit);
      return why === "too-low" ? words.low(limit) : words.high(limit);
    }
  }
}

// What the server did not take: by the cell where it names one, else by the day.
function Refused({ columns, lines }: { columns: readonly Column[]; lines: readonly Line[] }) {
  const words = sheetWords();
  const rows = columns.flatMap((c) =>
    Object.entries(c.refused).map(([key, code]) => {
      const line = lines.find((l) => l.key === key);
      const on = formats().date(c.on);
      return { what: line ? words.entry.cell(lineName(line), c.on) : on, code, key: `${c.on} ${key}` };
    }),
  );
  if (rows.length === 0) return null;
  return (
    <section class="sheet-faults" role="alert">
      <h3>{words.entry.look}</h3>
      <ul>
        {rows.map(({ key, what, code }) => (
          <li key={key}>
            <strong>{what}</strong>:{" "}
            {words.problems[code] ?? shared().problems[code] ?? shared().problems.internal}
          </li>
        ))}
      </ul>
    </section>
  );
}
