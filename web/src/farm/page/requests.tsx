import { useState } from "preact/hooks";
import type { components } from "../../api/api.gen";
import { api } from "../../api/client";
import { explainField } from "../../api/explain";
import { useRead } from "../../api/read";
import { uuidv7 } from "../../offline/uuid";
import { isoOf, today } from "../../time/day";
import { Button } from "../../ui/button";
import { SelectField } from "../../ui/choice";
import { DateField } from "../../ui/date-field";
import { TextArea } from "../../ui/field";
import { FormDialog } from "../../ui/form-dialog";
import { Shown } from "../../ui/shown";
import { Trouble } from "../../ui/states";
import { personName, usePeople } from "../people";
import { useFarm } from "./context";
import { pageWords } from "./words";

type Request = components["schemas"]["Request"];

/** Requests are what the firm asks the people of the farm to do, and what they answered. */
export function Requests() {
  const words = pageWords();
  const { farm, times } = useFarm();
  const [asking, setAsking] = useState(false);
  const [error, setError] = useState<unknown>(null);
  const read = useRead(`requests ${farm.id} ${times}`, async (signal) => {
    return (await api.get("/api/farms/{id}/requests", { path: { id: farm.id }, signal })).body.items;
  });
  usePeople(read.value?.map((r) => r.answered_by ?? "").filter(Boolean) ?? []);
  const withdraw = (r: Request) =>
    api.post("/api/requests/{id}/withdraw", { path: { id: r.id } }).then(() => read.again(), setError);
  return (
    <section id="requests" aria-labelledby="requests-title">
      <h2 id="requests-title">{words.parts.requests}</h2>
      {error !== null && <Trouble error={error} texts={words.form.problems} />}
      <Shown read={read}>
        {(requests) =>
          requests.length === 0 ? (
            <p class="empty">{words.requests.none}</p>
          ) : (
            <ul class="ruled">
              {requests.map((r) => (
                <li key={r.id} class="with-button">
                  <span>
                    {r.text}
                    <span class="minor">{stateOf(r, nameOf(farm.people))}</span>
                  </span>
                  {!r.answer && !r.withdrawn_on && (
                    <Button aria-label={words.requests.withdrawOf(r.text)} onClick={() => void withdraw(r)}>
                      {words.requests.withdraw}
                    </Button>
                  )}
                </li>
              ))}
            </ul>
          )
        }
      </Shown>
      <p class="no-print">
        <Button onClick={() => setAsking(true)}>{words.requests.ask}</Button>
      </p>
      {asking && <Ask onClose={() => setAsking(false)} done={() => void read.again()} />}
    </section>
  );
}

type People = readonly { person_id: string; name: string }[];
const nameOf = (people: People) => (id: string) =>
  personName(id) || people.find((p) => p.person_id === id)?.name || pageWords().timeline.someone;

function stateOf(r: Request, name: (id: string) => string): string {
  const words = pageWords();
  const who = name(r.answered_by ?? "");
  const on = r.answered_on ?? "";
  const note = r.note ? `. ${r.note}` : "";
  if (r.answer === "done") return words.requests.done(who, on) + note;
  if (r.answer === "could-not") {
    const why = words.timeline.couldNot[r.reason ?? ""] ?? r.reason ?? "";
    return words.requests.couldNot(who, on, why) + note;
  }
  return r.withdrawn_on ? words.requests.withdrawn(r.withdrawn_on) : words.requests.by(r.due_on);
}

function Ask({ onClose, done }: { onClose: () => void; done: () => void }) {
  const words = pageWords();
  const { farm } = useFarm();
  const [key] = useState(uuidv7);
  const [text, setText] = useState("");
  const [due, setDue] = useState(isoOf(today(farm.branch.time_zone) + 1));
  const [unit, setUnit] = useState("");
  const send = async () => {
    const body = { text, due_on: due, ...(unit ? { unit_id: unit } : {}) };
    await api.post("/api/farms/{id}/requests", { path: { id: farm.id }, key, body });
    done();
  };
  const wrong = (error: unknown, path: string) => explainField(error, path, words.form.problems);
  return (
    <FormDialog
      title={words.requests.ask}
      send={send}
      onClose={onClose}
      done={words.requests.asked}
      texts={words.form.problems}
    >
      {(error) => (
        <>
          <TextArea
            label={words.requests.text}
            hint={words.requests.textHint}
            value={text}
            onValue={setText}
            rows={3}
            maxLength={500}
            error={wrong(error, "text") ?? wrong(error, "body.text")}
          />
          <DateField
            label={words.requests.due}
            value={due}
            onValue={setDue}
            error={wrong(error, "due_on") ?? wrong(error, "body.due_on")}
          />
          {farm.units.length > 1 && (
            <SelectField
              label={words.requests.unit}
              blank={words.requests.whole}
              options={farm.units.map((u) => ({ value: u.id, label: u.name }))}
              value={unit}
              onValue={setUnit}
            />
          )}
        </>
      )}
    </FormDialog>
  );
}
