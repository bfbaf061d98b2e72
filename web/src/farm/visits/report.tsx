import { useState } from "preact/hooks";
import { api } from "../../api/client";
import { explainField } from "../../api/explain";
import { useRead } from "../../api/read";
import type { Scored, VisitLine } from "../../api/types";
import { isoOf, today } from "../../time/day";
import { DateField } from "../../ui/date-field";
import { CheckField, TextArea } from "../../ui/field";
import { FormDialog } from "../../ui/form-dialog";
import { type Names, sayReason } from "../reason";
import { missing } from "./plan";
import { visitWords } from "./words";

/** The longest text of a report, in characters with room for accents. */
const longest = 2000;

/** FinishVisit says what a visit found and which of its reasons it dealt with. */
export function FinishVisit({
  visit,
  names,
  onClose,
  changed,
}: {
  visit: VisitLine;
  names: Names;
  onClose: () => void;
  changed: () => void;
}) {
  const words = visitWords();
  const now = isoOf(today());
  const [on, setOn] = useState(() => (visit.on.localeCompare(now) < 0 ? visit.on : now));
  const [findings, setFindings] = useState("");
  const [dealt, setDealt] = useState<readonly string[]>([]);
  const reasons = useReasons(visit);
  const send = async () => {
    if (!findings.trim()) throw missing("findings");
    await api.post("/api/visits/{id}/done", {
      path: { id: visit.id },
      version: visit.version,
      body: { done_on: on, findings, dealt: [...dealt] },
    });
    changed();
  };
  return (
    <FormDialog
      title={words.form.finishTitle(visit.farm)}
      save={words.form.save}
      send={send}
      onClose={onClose}
      done={words.form.done}
      texts={words.problems}
      readAgain={changed}
    >
      {(error) => (
        <>
          <DateField
            label={words.form.doneOn}
            value={on}
            onValue={setOn}
            max={now}
            error={explainField(error, "done_on", words.problems)}
            quick
          />
          <TextArea
            label={words.form.found}
            hint={words.form.foundHint}
            value={findings}
            onValue={setFindings}
            rows={5}
            maxLength={longest}
            error={explainField(error, "findings", words.problems)}
          />
          {reasons.length > 0 && (
            <fieldset class="group">
              <legend>{words.form.dealt}</legend>
              <p class="field-hint">{words.form.dealtHint}</p>
              {reasons.map((r) => (
                <CheckField
                  key={r.key}
                  label={sayReason(r.reason, names)}
                  checked={dealt.includes(r.key)}
                  onChecked={(yes) => setDealt(yes ? [...dealt, r.key] : dealt.filter((k) => k !== r.key))}
                />
              ))}
            </fieldset>
          )}
        </>
      )}
    </FormDialog>
  );
}

// A visit may deal with what came up after it was planned, too.
function useReasons(visit: VisitLine): Scored[] {
  const now = useRead(`need ${visit.farm_id}`, async (signal) => {
    const query = { farm: visit.farm_id };
    return (await api.get("/api/visit-needs", { query, signal })).body.items[0];
  });
  const planned = visit.reasons ?? [];
  const fresh = now.value ? [...now.value.must_go, ...now.value.reasons] : [];
  const known = new Set(fresh.map((r) => r.key));
  return [...fresh, ...planned.filter((r) => !known.has(r.key))];
}

/** MissVisit says that nobody went, and why. */
export function MissVisit({
  visit,
  onClose,
  changed,
}: {
  visit: VisitLine;
  onClose: () => void;
  changed: () => void;
}) {
  const words = visitWords();
  const [why, setWhy] = useState("");
  const send = async () => {
    if (!why.trim()) throw missing("why");
    await api.post("/api/visits/{id}/missed", {
      path: { id: visit.id },
      version: visit.version,
      body: { why },
    });
    changed();
  };
  return (
    <FormDialog
      title={words.form.missTitle(visit.farm)}
      save={words.form.missSave}
      send={send}
      onClose={onClose}
      done={words.form.missDone}
      texts={words.problems}
      readAgain={changed}
    >
      {(error) => (
        <TextArea
          label={words.form.why}
          value={why}
          onValue={setWhy}
          rows={3}
          maxLength={1000}
          error={explainField(error, "why", words.problems)}
        />
      )}
    </FormDialog>
  );
}
