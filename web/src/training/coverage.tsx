import { useState } from "preact/hooks";
import { Bar } from "../chart/bar";
import { enterpriseName, namesOf } from "../farm/packs";
import { formats } from "../i18n/format";
import { Button } from "../ui/button";
import { Table } from "../ui/table";
import type { CoverRow, TrainingPage } from "./types";
import { trainingWords } from "./words";

/** Coverage counts who holds the modules that go-aheads ask for, by branch and module and by farm. */
export function Coverage({ page }: { page: TrainingPage }) {
  const words = trainingWords();
  return (
    <section aria-labelledby="coverage">
      <h2 id="coverage">{words.coverage}</h2>
      <p class="minor">{words.coverageHint}</p>
      {page.farms.length === 0 ? (
        <p class="empty">{words.noFarms}</p>
      ) : (
        <>
          <Branches rows={page.branches} />
          <Farms rows={page.farms} />
        </>
      )}
    </section>
  );
}

const moduleName = (row: CoverRow, module: string) => namesOf(row.enterprise)("module", module) ?? module;

function Branches({ rows }: { rows: readonly CoverRow[] }) {
  const words = trainingWords();
  const { number } = formats();
  const lines = rows.flatMap((row) => row.modules.map((m) => ({ row, m })));
  return (
    <Table
      caption={words.byBranch}
      columns={[
        { key: "module", head: words.module, cell: ({ row, m }) => moduleName(row, m.module) },
        { key: "branch", head: words.branch, cell: ({ row }) => row.name },
        { key: "enterprise", head: words.enterprise, cell: ({ row }) => enterpriseName(row.enterprise) },
        { key: "held", head: words.held, number: true, cell: ({ m }) => number(m.held) },
        { key: "lapsed", head: words.lapsed, number: true, cell: ({ m }) => number(m.lapsed) },
        { key: "missing", head: words.missing, number: true, cell: ({ m }) => number(m.missing) },
        { key: "share", head: words.share, cell: ({ row, m }) => <Share held={m.held} of={row.people} /> },
      ]}
      rows={lines}
      keyOf={({ row, m }) => `${row.id} ${row.enterprise} ${m.module}`}
    />
  );
}

function Share({ held, of }: { held: number; of: number }) {
  const words = trainingWords();
  if (of === 0) return <>{words.nobody}</>;
  return (
    <span class="share">
      <Bar share={held / of} /> {words.percent(held / of)}
    </span>
  );
}

// A screenful; the rest is asked for.
const atFirst = 20;

function Farms({ rows }: { rows: readonly CoverRow[] }) {
  const words = trainingWords();
  const { number } = formats();
  const [all, setAll] = useState(false);
  // Where most people lack something comes first; a farm without anybody in charge before all.
  const left = (r: CoverRow) => (r.people === 0 ? Number.POSITIVE_INFINITY : r.people - r.complete);
  const sorted = [...rows].sort((a, b) => (left(a) === left(b) ? 0 : left(b) > left(a) ? 1 : -1));
  const shown = all ? sorted : sorted.slice(0, atFirst);
  return (
    <>
      <Table
        caption={words.byFarm}
        columns={[
          { key: "farm", head: words.farm, cell: (r) => <a href={`/farms/${r.id}#people`}>{r.name}</a> },
          { key: "enterprise", head: words.enterprise, cell: (r) => enterpriseName(r.enterprise) },
          {
            key: "people",
            head: words.inCharge,
            number: true,
            cell: (r) => (r.people === 0 ? words.nobody : number(r.people)),
          },
          { key: "complete", head: words.complete, number: true, cell: (r) => number(r.complete) },
          { key: "lacks", head: words.lacks, cell: (r) => lacking(r) },
        ]}
        rows={shown}
        keyOf={(r) => `${r.id} ${r.enterprise}`}
      />
      {shown.length < sorted.length && (
        <Button onClick={() => setAll(true)}>{words.more(sorted.length - shown.length)}</Button>
      )}
    </>
  );
}

function lacking(row: CoverRow): string {
  const words = trainingWords();
  if (row.people === 0) return "";
  const modules = row.modules.filter((m) => m.held < row.people);
  if (modules.length === 0) return words.nothingLacks;
  return modules
    .map((m) => words.lack(moduleName(row, m.module), m.lapsed + m.missing, row.people))
    .join(", ");
}
