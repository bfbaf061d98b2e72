import type { Load } from "../../api/types";
import { Columns } from "../../chart/columns";
import { formats } from "../../i18n/format";
import { parseDay } from "../../time/day";
import { Table } from "../../ui/table";
import { dayTotals } from "./totals";
import { managerWords } from "./words";

/** LoadDays draws the tickets that came up on each day, with the same as a table. */
export function LoadDays({ load }: { load: Load }) {
  const words = managerWords().load;
  const { number, date } = formats();
  const days = dayTotals(load);
  const advisors = load.branches.reduce((sum, b) => sum + Math.max(b.advisors, 1), 0);
  const line = (load.branches[0]?.line ?? 0) * advisors;
  const most = Math.max(...days.map((d) => d.raised + d.byPeople));
  return (
    <div class="captioned">
      <h2>{words.byDay}</h2>
      <p class="chart-key">
        <svg width="14" height="14" aria-hidden="true">
          <rect class="chart-part" width="14" height="14" />
        </svg>
        {words.bySweep}
        <svg width="14" height="14" aria-hidden="true">
          <rect class="chart-part chart-part-1" x="1" y="1" width="12" height="12" />
        </svg>
        {words.byPeople}
      </p>
      <Columns
        label={`${words.byDay}. ${words.totals(load.opened, load.reopened, load.settled)}`}
        columns={days.map((d) => ({ on: parseDay(d.on) ?? 0, parts: [d.raised, d.byPeople] }))}
        // A line far above everything would flatten the columns.
        {...(line > 0 && line <= 3 * most ? { limit: line, limitWords: words.line(line) } : {})}
      />
      <details>
        <summary>{words.showDays}</summary>
        <Table
          caption={words.byDay}
          columns={[
            { key: "on", head: words.day, cell: (d) => date(d.on) },
            { key: "raised", head: words.bySweep, number: true, cell: (d) => number(d.raised) },
            { key: "people", head: words.byPeople, number: true, cell: (d) => number(d.byPeople) },
          ]}
          rows={days.filter((d) => d.raised + d.byPeople > 0)}
          keyOf={(d) => d.on}
        />
      </details>
    </div>
  );
}
