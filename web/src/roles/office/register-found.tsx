import { useState } from "preact/hooks";
import { formats } from "../../i18n/format";
import { Table } from "../../ui/table";
import { fits, type RegisterRow, type RowChoice, rowChoices, rowsOf } from "./register-rows";
import type { RegisterAnswer } from "./types";
import { officeWords } from "./words";

// More rows than this would only be scrolled past.
const mostShown = 200;

/** Found shows what would become, or became, of each row; the counts choose which rows. */
export function Found({ answer }: { answer: RegisterAnswer }) {
  const words = officeWords().register;
  const rows = rowsOf(answer);
  const [choice, choose] = useState<RowChoice>(answer.problems.length > 0 ? "look" : "all");
  const shown = rows.filter((row) => fits(row, choice));
  return (
    <>
      <h2>{words.totals(answer.rows)}</h2>
      <p>
        {answer.problems.length === 0 && `${words.problemsNone} `}
        {answer.doubles > 0 && words.doubles(answer.doubles)}
      </p>
      <fieldset class="counts" aria-label={words.choose}>
        {rowChoices.map((key) => (
          <Count
            key={key}
            words={words.choices[key]}
            count={rows.filter((row) => fits(row, key)).length}
            pressed={key === choice}
            choose={() => choose(key)}
          />
        ))}
      </fieldset>
      {shown.length === 0 ? <p class="empty">{words.noRows}</p> : <Rows rows={shown} />}
      {shown.length > mostShown && <p>{words.shownOf(mostShown, shown.length)}</p>}
    </>
  );
}

function Count(shown: { words: string; count: number; pressed: boolean; choose: () => void }) {
  return (
    <button type="button" class="count" aria-pressed={shown.pressed} onClick={shown.choose}>
      {shown.words} <strong>{formats().number(shown.count)}</strong>
    </button>
  );
}

function Rows({ rows }: { rows: readonly RegisterRow[] }) {
  const words = officeWords().register;
  return (
    <Table
      caption={words.rowByRow}
      rows={rows.slice(0, mostShown)}
      keyOf={(r) => String(r.row)}
      columns={[
        { key: "row", head: words.row, cell: (r) => formats().number(r.row), number: true },
        { key: "verdict", head: words.verdict, cell: (r) => words.verdicts[r.verdict] ?? "" },
        { key: "what", head: words.what, cell: (r) => <What row={r} /> },
      ]}
    />
  );
}

function What({ row }: { row: RegisterRow }) {
  const words = officeWords().register;
  return (
    <ul class="row-words">
      {row.problems.map((p) => (
        <li key={`${p.column} ${p.code}`} class={`row-${p.severity}`}>
          <strong>{words.severity[p.severity] ?? p.severity}</strong>
          {p.column && ` · ${p.column}`}: {p.text}
        </li>
      ))}
      {row.changes.map((c) => (
        <li key={c.column}>
          {c.column}: {c.from ? words.changed(c.from, c.to) : words.filled(c.to)}
        </li>
      ))}
    </ul>
  );
}
