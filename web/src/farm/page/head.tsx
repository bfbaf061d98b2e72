import { useState } from "preact/hooks";
import { explainField } from "../../api/explain";
import { useCommand } from "../../keyboard/commands";
import { isoOf, today } from "../../time/day";
import { Button } from "../../ui/button";
import { TextArea } from "../../ui/field";
import { FormDialog } from "../../ui/form-dialog";
import { useFarm } from "./context";
import { longestNote, useEntry } from "./entry";
import { pageWords } from "./words";

/** Facts are the few lines that say whose farm it is, where, and how to reach it. */
export function Facts() {
  const words = pageWords();
  const { farm } = useFarm();
  const place = [farm.town, farm.landmark].filter(Boolean).join(", ");
  const lines = [
    { key: "client", label: words.facts.client, text: farm.client },
    {
      key: "phone",
      label: words.facts.phone,
      text: farm.owner.phone && <a href={`tel:${farm.owner.phone}`}>{farm.owner.phone}</a>,
    },
    {
      key: "place",
      label: words.facts.place,
      text: `${place || words.noPlace}${farm.position.known ? "" : ` (${words.noPosition})`}`,
    },
    { key: "branch", label: words.facts.branch, text: farm.branch.name },
    {
      key: "watched",
      label: words.facts.watched,
      text: farm.watched_on ? words.watchedSince(farm.watched_on) : words.notWatched,
    },
    { key: "status", label: words.facts.status, text: words.status[farm.status] ?? farm.status },
  ];
  return (
    <dl class="facts farm-facts">
      {lines
        .filter((l) => l.text)
        .map((l) => (
          <div key={l.key}>
            <dt>{l.label}</dt>
            <dd>{l.text}</dd>
          </div>
        ))}
    </dl>
  );
}

/** Doings are what one does from anywhere on the page: add a note, print it. */
export function Doings() {
  const words = pageWords();
  const [noting, setNoting] = useState(false);
  useCommand({ id: "farm.note", combo: "n", label: () => words.form.addNote.title }, () => setNoting(true));
  useCommand({ id: "farm.print", combo: "p", label: () => words.print }, () => window.print());
  return (
    <div class="buttons no-print">
      <Button onClick={() => setNoting(true)}>{words.form.addNote.title}</Button>
      <Button onClick={() => window.print()}>{words.print}</Button>
      {noting && <AddNote onClose={() => setNoting(false)} />}
    </div>
  );
}

function AddNote({ onClose }: { onClose: () => void }) {
  const words = pageWords().form;
  const { farm } = useFarm();
  const enter = useEntry();
  const [note, setNote] = useState("");
  return (
    <FormDialog
      title={words.addNote.title}
      send={() => enter({ kind: "note", on: isoOf(today(farm.branch.time_zone)), data: { note } })}
      onClose={onClose}
      done={words.saved}
      texts={words.problems}
    >
      {(error) => (
        <TextArea
          label={words.addNote.text}
          value={note}
          onValue={setNote}
          rows={5}
          maxLength={longestNote}
          error={explainField(error, "data.note", words.problems)}
        />
      )}
    </FormDialog>
  );
}

/** PartLinks lead to the parts of a long page. */
export function PartLinks() {
  const words = pageWords();
  const { farm } = useFarm();
  const units = farm.units.map((u) => ({ id: `unit-${u.id}`, label: u.name }));
  const parts = (["tickets", "visits", "promises", "requests", "people", "snags", "timeline"] as const).map(
    (id) => ({
      id,
      label: words.parts[id],
    }),
  );
  return (
    <nav class="parts no-print" aria-label={words.jump}>
      <ul>
        {[...units, ...parts].map(({ id, label }) => (
          <li key={id}>
            <a href={`#${id}`}>{label}</a>
          </li>
        ))}
      </ul>
    </nav>
  );
}
