import { useState } from "preact/hooks";
import { Button } from "../ui/button";
import { Table } from "../ui/table";
import type { LearnerRow } from "./types";
import { trainingWords } from "./words";

type Module = LearnerRow["modules"][number];

// A screenful; the rest is asked for.
const atFirst = 20;

/** Learners says who has which modules under way, and how much is passed. */
export function Learners({ people }: { people: readonly LearnerRow[] }) {
  const words = trainingWords();
  const [all, setAll] = useState(false);
  const shown = all ? people : people.slice(0, atFirst);
  return (
    <div class="captioned">
      <h2>{words.people}</h2>
      {people.length === 0 ? (
        <p class="empty">{words.noPeople}</p>
      ) : (
        <Table
          caption={words.people}
          columns={[
            { key: "person", head: words.person, cell: (p) => <Person person={p} /> },
            {
              key: "farm",
              head: words.farm,
              cell: (p) => <a href={`/farms/${p.farm_id}#people`}>{p.farm}</a>,
            },
            {
              key: "holds",
              head: words.holds,
              number: true,
              cell: (p) => words.of(p.modules.filter((m) => m.until).length, p.modules.length),
            },
            { key: "learning", head: words.learning, cell: (p) => <UnderWay modules={p.modules} /> },
            { key: "lacking", head: words.lacking, cell: (p) => untouched(p.modules) },
          ]}
          rows={shown}
          keyOf={(p) => `${p.person_id} ${p.farm_id}`}
        />
      )}
      {shown.length < people.length && (
        <Button onClick={() => setAll(true)}>{words.more(people.length - shown.length)}</Button>
      )}
    </div>
  );
}

function Person({ person }: { person: LearnerRow }) {
  return (
    <>
      {person.name}
      {person.in_charge && <span class="minor">{trainingWords().charge}</span>}
    </>
  );
}

function UnderWay({ modules }: { modules: readonly Module[] }) {
  const texts = modules.flatMap((m) => underWay(m) ?? []);
  if (texts.length === 0) return null;
  return (
    <ul class="ruled">
      {texts.map((text) => (
        <li key={text}>{text}</li>
      ))}
    </ul>
  );
}

// What is newest on record of a module says where the person stands.
function underWay(m: Module): string | undefined {
  const words = trainingWords().under;
  if (m.answered_on) return words.answered(m.name, m.answered_on);
  if (m.checked_on) return words.checked(m.name, m.checked_on);
  if (m.redo_on) return words.redo(m.name, m.redo_on);
  if (m.failed_on) return words.failed(m.name, m.failed_on);
  if (m.read_on) return words.read(m.name, m.read_on);
  return m.lapsed_on ? words.lapsed(m.name, m.lapsed_on) : undefined;
}

const untouched = (modules: readonly Module[]) =>
  modules
    .filter((m) => !m.until && !underWay(m))
    .map((m) => m.name)
    .join(", ");
