import { useState } from "preact/hooks";
import type { CyclePage, Pack } from "../../api/types";
import { LineChart } from "../../chart/line";
import { formats } from "../../i18n/format";
import { parseDay } from "../../time/day";
import { Button } from "../../ui/button";
import { Table } from "../../ui/table";
import { type Kind, type Look, looksOf, readable } from "./looks";
import { NoteCover, NoteWeights } from "./note-reading";
import { pageWords } from "./words";

/** Readings shows plant cover and sample weights as a line and a table, and takes new ones. */
export function Readings({ unit, cycle, pack }: { unit: string; cycle: CyclePage; pack: Pack | undefined }) {
  const [asked, ask] = useState<Kind | null>(null);
  const words = pageWords();
  const kinds = readable(cycle, pack);
  if (kinds.length === 0) return null;
  return (
    <section>
      <h3>{words.parts.readings}</h3>
      {cycle.readings.length === 0 && <p class="empty">{words.readings.none}</p>}
      {kinds.map((kind) => (
        <ReadingsOfKind
          key={kind}
          unit={unit}
          kind={kind}
          looks={looksOf(cycle, kind)}
          goal={goalOf(pack, kind)}
        />
      ))}
      <div class="buttons">
        {kinds.map((kind) => (
          <Button key={kind} onClick={() => ask(kind)}>
            {words.readings.add[kind]}
          </Button>
        ))}
      </div>
      {asked === "cover" && <NoteCover cycle={cycle} onClose={() => ask(null)} />}
      {asked === "weight" && <NoteWeights cycle={cycle} onClose={() => ask(null)} />}
    </section>
  );
}

// What the go-ahead asks of the reading, where it asks anything.
function goalOf(pack: Pack | undefined, kind: Kind): number | undefined {
  const limits = pack?.go_aheads.flatMap((g) => g.limits) ?? [];
  return limits.find((l) => l.reading === kind)?.low;
}

function ReadingsOfKind({
  unit,
  kind,
  looks,
  goal,
}: {
  unit: string;
  kind: Kind;
  looks: readonly Look[];
  goal: number | undefined;
}) {
  const words = pageWords().readings;
  const { date, number, percent, measure } = formats();
  const last = looks[looks.length - 1];
  if (!last) return null;
  const value = (v: number) => (kind === "cover" ? percent(v) : measure(v, "g", 1));
  const columns = [
    { key: "on", head: words.on, cell: (l: Look) => date(l.on) },
    { key: "value", head: words.value, number: true, cell: (l: Look) => value(l.value) },
  ];
  const ofSample = [
    { key: "n", head: words.weighed, number: true, cell: (l: Look) => (l.n ? number(l.n) : "") },
    { key: "sd", head: words.spread, number: true, cell: (l: Look) => (l.sd ? measure(l.sd, "g", 1) : "") },
  ];
  const latest = words.last(value(last.value), last.on);
  return (
    <div class="reading">
      <LineChart
        label={`${words[kind]}. ${latest}`}
        dots={looks.map((l) => ({ on: parseDay(l.on) ?? 0, value: l.value }))}
        {...(goal === undefined ? {} : { goal, goalWords: words.goal(value(goal)) })}
      />
      <Table
        caption={`${words[kind]}, ${unit}`}
        columns={kind === "cover" ? columns : [...columns, ...ofSample]}
        rows={[...looks].reverse().slice(0, 12)}
        keyOf={(l) => l.id}
      />
    </div>
  );
}
