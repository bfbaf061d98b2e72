import { useState } from "preact/hooks";
import { explainField } from "../../api/explain";
import type { WorkerPage } from "../../api/types";
import { isoOf, today } from "../../time/day";
import { Button } from "../../ui/button";
import { Choice } from "../../ui/choice";
import { DateField } from "../../ui/date-field";
import { FormDialog } from "../../ui/form-dialog";
import { packOf, said } from "../packs";
import { useFarm } from "./context";
import { useEntry } from "./entry";
import { type Held, heldModules } from "./modules";
import { pageWords } from "./words";

/** People shows who works on the farm, and the modules that each has passed, may pass or has outlived. */
export function People() {
  const words = pageWords();
  const { farm } = useFarm();
  return (
    <section id="people" aria-labelledby="people-title">
      <h2 id="people-title">{words.parts.people}</h2>
      {farm.people.length === 0 && <p class="empty">{words.people.none}</p>}
      <ul class="ruled">
        {farm.people.map((worker) => (
          <WorkerLine key={worker.person_id} worker={worker} />
        ))}
      </ul>
    </section>
  );
}

function WorkerLine({ worker }: { worker: WorkerPage }) {
  const words = pageWords().people;
  const { farm } = useFarm();
  const [asked, ask] = useState<Held | null>(null);
  const enterprises = [...new Set(farm.units.map((u) => u.enterprise))];
  const on = isoOf(today(farm.branch.time_zone));
  const held = enterprises.flatMap((e) => heldModules(packOf(e), e, worker.passes, on));
  const facts = [
    worker.in_charge ? words.inCharge : "",
    worker.since ? words.since(worker.since) : "",
    words.language[worker.language] ?? "",
  ];
  return (
    <li>
      <strong>{worker.name}</strong> {worker.phone && <a href={`tel:${worker.phone}`}>{worker.phone}</a>}
      <span class="minor">{facts.filter(Boolean).join(" · ")}</span>
      {held.length > 0 && (
        <details open={worker.in_charge && held.some((h) => h.state !== "valid")}>
          <summary>{words.modules(held.filter((h) => h.state === "valid").length, held.length)}</summary>
          <ul class="modules">
            {held.map((h) => (
              <ModuleLine key={`${h.enterprise}/${h.module.key}`} held={h} who={worker.name} ask={ask} />
            ))}
          </ul>
        </details>
      )}
      {asked && <PassModule worker={worker} held={asked} onClose={() => ask(null)} />}
    </li>
  );
}

function ModuleLine({ held, who, ask }: { held: Held; who: string; ask: (held: Held) => void }) {
  const words = pageWords().people;
  const name = said(held.module.name);
  const state =
    held.state === "valid"
      ? `${words.until(held.until)}${words.how[held.how] ? `, ${words.how[held.how]}` : ""}`
      : held.state === "lapsed"
        ? words.lapsed(held.until)
        : words.missing;
  return (
    <li class={`module module-${held.state}`}>
      <span>
        {name}
        {held.module.safety && ` (${words.safety})`}
        <span class="minor">{state}</span>
      </span>
      {held.state !== "valid" && (
        <Button onClick={() => ask(held)} aria-label={words.passOf(name, who)}>
          {words.pass}
        </Button>
      )}
    </li>
  );
}

type How = "in-person" | "visit" | "video" | "phone";
const ways: readonly How[] = ["in-person", "visit", "video", "phone"];

function PassModule({ worker, held, onClose }: { worker: WorkerPage; held: Held; onClose: () => void }) {
  const words = pageWords();
  const { farm } = useFarm();
  const enter = useEntry();
  const [how, setHow] = useState<How>("in-person");
  const [on, setOn] = useState(isoOf(today(farm.branch.time_zone)));
  const send = () =>
    enter({
      kind: "module",
      on,
      data: { person_id: worker.person_id, enterprise: held.enterprise, module: held.module.key, how },
    });
  return (
    <FormDialog
      title={words.form.module.title}
      send={send}
      onClose={onClose}
      done={words.form.saved}
      texts={words.form.problems}
    >
      {(error) => (
        <>
          <p>
            {words.form.module.text(said(held.module.name), worker.name)}{" "}
            {held.module.months > 0 && words.form.module.valid(held.module.months)}
          </p>
          <Choice
            label={words.form.module.how}
            value={how}
            onValue={setHow}
            options={ways.map((value) => ({ value, label: words.people.how[value] ?? value }))}
            error={explainField(error, "data.how", words.form.problems)}
          />
          <DateField
            label={words.form.day}
            value={on}
            onValue={setOn}
            error={explainField(error, "on", words.form.problems)}
            quick
          />
        </>
      )}
    </FormDialog>
  );
}
