import type { ProjectionPage } from "../../api/types";
import { formats } from "../../i18n/format";
import { Table } from "../../ui/table";
import { projectionWords } from "./words";

/** How says what a projection rests on: inputs with source and grade, formula and caution. */
export function How({ found }: { found: ProjectionPage }) {
  const words = projectionWords();
  const { number } = formats();
  if (found.inputs.length === 0) return null;
  const put = (measure: string, value: number) => words.measures[measure]?.(value) ?? number(value, 2);
  return (
    <details class="projection-how">
      <summary>{words.how.title}</summary>
      {found.breeding && <p>{words.how.text}</p>}
      <p>{found.breeding ? words.how.formula : words.how.fishFormula}</p>
      <p>{words.how.facts(number(found.area_m2, 1), found.put_in)}</p>
      <Table
        caption={words.how.title}
        columns={[
          { key: "figure", head: words.how.figure, cell: (i) => words.inputs[i.key] ?? i.key },
          { key: "low", head: words.how.low, number: true, cell: (i) => put(i.measure, i.low) },
          { key: "likely", head: words.how.likely, number: true, cell: (i) => put(i.measure, i.likely) },
          { key: "high", head: words.how.high, number: true, cell: (i) => put(i.measure, i.high) },
          { key: "source", head: words.how.source, cell: (i) => <Rests input={i} /> },
        ]}
        rows={found.inputs}
        keyOf={(i) => i.key}
      />
      <p>{words.caution}</p>
    </details>
  );
}

// Sources and notes are as their authors and the pack have them, in English.
function Rests({ input }: { input: ProjectionPage["inputs"][number] }) {
  const words = projectionWords();
  return (
    <>
      {words.grades[input.grade]}
      {(input.citation || input.note) && (
        <span class="minor" lang="en">
          {" "}
          {[input.citation, input.note].filter(Boolean).join(". ")}
        </span>
      )}
    </>
  );
}
