import { useState } from "preact/hooks";
import { explainField } from "../../api/explain";
import type { Snag } from "../../api/types";
import { isoOf, today } from "../../time/day";
import { Button } from "../../ui/button";
import { SelectField } from "../../ui/choice";
import { DateField } from "../../ui/date-field";
import { TextArea } from "../../ui/field";
import { FormDialog } from "../../ui/form-dialog";
import { useFarm } from "./context";
import { longestNote, useEntry } from "./entry";
import { pageWords } from "./words";

/** Snags lists the faults of the build, open ones first, and notes new ones and their mending. */
export function Snags() {
  const words = pageWords();
  const { farm } = useFarm();
  const [adding, setAdding] = useState(false);
  const [mending, setMending] = useState<Snag | null>(null);
  const snags = [...farm.snags].sort((a, b) => (a.fixed_on || "9").localeCompare(b.fixed_on || "9") * -1);
  const units = new Map(farm.units.map((u) => [u.id, u.name]));
  return (
    <section id="snags" aria-labelledby="snags-title">
      <h2 id="snags-title">{words.parts.snags}</h2>
      {!snags.some((s) => !s.fixed_on) && <p class="empty">{words.snags.none}</p>}
      <ul class="ruled">
        {snags.map((snag) => (
          <li key={snag.id} class="with-button">
            <div>
              {snag.text}
              <span class="minor">
                {[
                  farm.units.length > 1 ? units.get(snag.unit_id) : "",
                  words.snags.found(snag.found_on),
                  snag.fixed_on ? words.snags.mended(snag.fixed_on) : "",
                ]
                  .filter(Boolean)
                  .join(" · ")}
              </span>
            </div>
            {!snag.fixed_on && (
              <Button onClick={() => setMending(snag)} aria-label={words.snags.mendOf(snag.text)}>
                {words.snags.mend}
              </Button>
            )}
          </li>
        ))}
      </ul>
      {farm.units.length > 0 && <Button onClick={() => setAdding(true)}>{words.snags.add}</Button>}
      {adding && <AddSnag onClose={() => setAdding(false)} />}
      {mending && <MendSnag snag={mending} onClose={() => setMending(null)} />}
    </section>
  );
}

function AddSnag({ onClose }: { onClose: () => void }) {
  const words = pageWords().form;
  const { farm } = useFarm();
  const enter = useEntry();
  const [unit, setUnit] = useState(farm.units[0]?.id ?? "");
  const [text, setText] = useState("");
  const [on, setOn] = useState(isoOf(today(farm.branch.time_zone)));
  return (
    <FormDialog
      title={words.snag.title}
      send={() => enter({ kind: "snag", unit_id: unit, on, data: { text } })}
      onClose={onClose}
      done={words.saved}
      texts={words.problems}
    >
      {(error) => (
        <>
          {farm.units.length > 1 && (
            <SelectField
              label={words.snag.unit}
              value={unit}
              onValue={setUnit}
              options={farm.units.map((u) => ({ value: u.id, label: u.name }))}
              error={explainField(error, "unit_id", words.problems)}
            />
          )}
          <TextArea
            label={words.snag.text}
            value={text}
            onValue={setText}
            rows={3}
            maxLength={longestNote}
            error={explainField(error, "data.text", words.problems)}
          />
          <DateField
            label={words.day}
            value={on}
            onValue={setOn}
            error={explainField(error, "on", words.problems)}
            quick
          />
        </>
      )}
    </FormDialog>
  );
}

function MendSnag({ snag, onClose }: { snag: Snag; onClose: () => void }) {
  const words = pageWords().form;
  const { farm } = useFarm();
  const enter = useEntry();
  const [on, setOn] = useState(isoOf(today(farm.branch.time_zone)));
  return (
    <FormDialog
      title={words.snag.mendTitle}
      send={() => enter({ kind: "snag-mended", on, data: { snag_id: snag.id } })}
      onClose={onClose}
      done={words.saved}
      texts={words.problems}
    >
      {(error) => (
        <>
          <p>{snag.text}</p>
          <DateField
            label={words.snag.mendOn}
            value={on}
            onValue={setOn}
            min={snag.found_on}
            error={explainField(error, "on", words.problems)}
            quick
          />
        </>
      )}
    </FormDialog>
  );
}
