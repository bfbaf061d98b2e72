import { useRef, useState } from "preact/hooks";
import { api } from "../../api/client";
import { explainField } from "../../api/explain";
import { Problem } from "../../api/problem";
import { useRead } from "../../api/read";
import type { VisitLine } from "../../api/types";
import { uuidv7 } from "../../offline/uuid";
import { isoOf, today } from "../../time/day";
import { SelectField } from "../../ui/choice";
import { DateField } from "../../ui/date-field";
import { FormDialog } from "../../ui/form-dialog";
import { useOfficers } from "./officers";
import { visitWords } from "./words";

/** Where a visit goes. */
export interface Goal {
  farmId: string;
  farm: string;
  branchId: string;
}

/** PlanVisit asks who goes to a farm and when, and shows what that person does on the day already. */
export function PlanVisit({
  goal,
  on: suggested,
  onClose,
  planned,
}: {
  goal: Goal;
  /** The day to begin with; tomorrow when left out. */
  on?: string | undefined;
  onClose: () => void;
  planned: () => void;
}) {
  const words = visitWords();
  const [officer, setOfficer] = useState("");
  const [on, setOn] = useState(suggested ?? isoOf(today() + 1));
  const sent = useRef<{ content: string; id: string }>();
  const send = async () => {
    if (!officer) throw missing("officer_id");
    const body = { farm_id: goal.farmId, officer_id: officer, on };
    const content = JSON.stringify(body);
    // The same plan sent again, after an answer that was lost, is the same visit.
    if (sent.current?.content !== content) sent.current = { content, id: uuidv7() };
    const { id } = sent.current;
    await api.post("/api/visits", { body: { id, ...body }, key: id });
    planned();
  };
  return (
    <FormDialog
      title={words.planOf(goal.farm)}
      save={words.plan}
      send={send}
      onClose={onClose}
      done={words.form.planned}
      texts={words.problems}
    >
      {(error) => (
        <WhoAndWhen
          branchId={goal.branchId}
          officer={officer}
          setOfficer={setOfficer}
          on={on}
          setOn={setOn}
          error={error}
        />
      )}
    </FormDialog>
  );
}

/** missing is the problem of a field that has to be filled in before anything is sent. */
export function missing(path: string): Problem {
  return new Problem(422, "visit-refused", "", [{ path, code: "required", text: "" }]);
}

/** ChangeVisit gives a planned visit another person or day. */
export function ChangeVisit({
  visit,
  onClose,
  changed,
}: {
  visit: VisitLine;
  onClose: () => void;
  changed: () => void;
}) {
  const words = visitWords();
  const [officer, setOfficer] = useState(visit.officer_id);
  const [on, setOn] = useState(visit.on);
  const send = async () => {
    if (!officer) throw missing("officer_id");
    await api.put("/api/visits/{id}", {
      path: { id: visit.id },
      version: visit.version,
      body: { officer_id: officer, on },
    });
    changed();
  };
  return (
    <FormDialog
      title={words.form.changeTitle(visit.farm)}
      send={send}
      onClose={onClose}
      done={words.form.changed}
      texts={words.problems}
      readAgain={changed}
    >
      {(error) => (
        <WhoAndWhen
          branchId={visit.branch_id}
          officer={officer}
          setOfficer={setOfficer}
          on={on}
          setOn={setOn}
          error={error}
          besides={visit.id}
        />
      )}
    </FormDialog>
  );
}

function WhoAndWhen({
  branchId,
  officer,
  setOfficer,
  on,
  setOn,
  error,
  besides,
}: {
  branchId: string;
  officer: string;
  setOfficer: (id: string) => void;
  on: string;
  setOn: (on: string) => void;
  error: unknown;
  besides?: string;
}) {
  const words = visitWords();
  const officers = useOfficers(branchId);
  return (
    <>
      <SelectField
        label={words.form.officer}
        value={officer}
        onValue={setOfficer}
        blank={words.form.nobody}
        options={officers.map((p) => ({ value: p.id, label: p.name }))}
        error={explainField(error, "officer_id", words.problems)}
      />
      <DateField
        label={words.form.day}
        value={on}
        onValue={setOn}
        min={isoOf(today())}
        error={explainField(error, "on", words.problems)}
      />
      {officer && on && (
        <OtherStops
          officer={officer}
          name={officers.find((p) => p.id === officer)?.name ?? ""}
          on={on}
          {...(besides ? { besides } : {})}
        />
      )}
    </>
  );
}

function OtherStops({
  officer,
  name,
  on,
  besides,
}: {
  officer: string;
  name: string;
  on: string;
  besides?: string;
}) {
  const words = visitWords().form;
  const read = useRead(`stops ${officer} ${on}`, async (signal) => {
    const query = { officer, from: on, to: on, state: "planned" as const, limit: 50 };
    return (await api.get("/api/visits", { query, signal })).body.items;
  });
  const stops = read.value?.filter((v) => v.id !== besides);
  if (!stops) return null;
  return (
    <div role="status" class="stops">
      {stops.length === 0 ? (
        <p>{words.noStops(name, on)}</p>
      ) : (
        <>
          <p>{words.stops(name, on)}</p>
          <ul>
            {stops.map((v) => (
              <li key={v.id}>
                {v.farm}
                {v.town && `, ${v.town}`}
              </li>
            ))}
          </ul>
        </>
      )}
    </div>
  );
}
