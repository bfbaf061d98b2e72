import { useState } from "preact/hooks";
import type { components } from "../../api/api.gen";
import { api } from "../../api/client";
import { explainField } from "../../api/explain";
import { useRead } from "../../api/read";
import type { WorkerPage } from "../../api/types";
import { language } from "../../i18n/language";
import { isoOf, today } from "../../time/day";
import { Button } from "../../ui/button";
import { Choice } from "../../ui/choice";
import { DateField } from "../../ui/date-field";
import { CheckField } from "../../ui/field";
import { FormDialog } from "../../ui/form-dialog";
import { packOf, said } from "../packs";
import { useFarm } from "./context";
import { useEntry } from "./entry";
import { type Held, heldModules } from "./modules";
import { pageWords } from "./words";

/** People shows who works on the farm, and the modules that each has passed, may pass or has outlived. */
export function People() {
  const words = pageWords();
  const { farm, times } = useFarm();
  const read = useRead(`training ${farm.id} ${times} ${language.value}`, async (signal) => {
    const query = { lang: language.value };
    return (await api.get("/api/farms/{id}/training", { path: { id: farm.id }, query, signal })).body.items;
  });
  return (
    <section id="people" aria-labelledby="people-title">
      <h2 id="people-title">{words.parts.people}</h2>
      {farm.people.length === 0 && <p class="empty">{words.people.none}</p>}
      <ul class="ruled">
        {farm.people.map((worker) => (
          <WorkerLine
            key={worker.person_id}
            worker={worker}
            learning={read.value?.find((l) => l.person_id === worker.person_id)?.modules ?? []}
          />
        ))}
      </ul>
    </section>
  );
}

type Learning = components["schemas"]["TodayModule"];

function WorkerLine({ worker, learning }: { worker: WorkerPage; learning: readonly Learning[] }) {
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
              <ModuleLine
                key={`${h.enterprise}/${h.module.key}`}
                held={h}
                worker={worker}
                ask={ask}
                learning={learning.find((l) => l.enterprise === h.enterprise && l.key === h.module.key)}
              />
            ))}
          </ul>
        </details>
      )}
      {asked && <PassModule worker={worker} held={asked} onClose={() => ask(null)} />}
    </li>
  );
}

function ModuleLine({
  held,
  worker,
  ask,
  learning,
}: {
  held: Held;
  worker: WorkerPage;
  ask: (held: Held) => void;
  learning: Learning | undefined;
}) {
  const words = pageWords().people;
  const { farm } = useFarm();
  const who = worker.name;
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
        <span class="minor">
          {state}
          {learning?.answered_on && held.state !== "valid" && `. ${words.answered(learning.answered_on)}`}
        </span>
        {learning?.lessons && held.state !== "valid" && !learning.answered_on && (
          <a
            class="no-print"
            href={`/farms/${farm.id}/ask/${worker.person_id}/${held.enterprise}/${held.module.key}`}
            aria-label={words.askAloudOf(name, who)}
          >
            {words.askAloud}
          </a>
        )}
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
const seen: readonly How[] = ["visit", "in-person", "video"];
const ways: readonly How[] = [...seen, "phone"];

/** useTasks are what the practical check of a module looks at; none for one that is taught from paper. */
function useTasks(held: Held): readonly { key: string; text: string }[] {
  const { enterprise } = held;
  const read = useRead(`lessons ${enterprise} ${language.value}`, async (signal) => {
    const query = { lang: language.value };
    return (await api.get("/api/lessons/{enterprise}", { path: { enterprise }, query, signal })).body;
  });
  return read.value?.modules.find((m) => m.key === held.module.key)?.tasks ?? [];
}

function PassModule({ worker, held, onClose }: { worker: WorkerPage; held: Held; onClose: () => void }) {
  const words = pageWords();
  const { farm } = useFarm();
  const enter = useEntry();
  const [how, setHow] = useState<How>("in-person");
  const [on, setOn] = useState(isoOf(today(farm.branch.time_zone)));
  const [done, setDone] = useState<ReadonlySet<string>>(new Set());
  const tasks = useTasks(held);
  const missed = tasks.map((t) => t.key).filter((key) => !done.has(key));
  const tick = (key: string, yes: boolean) =>
    setDone(new Set(yes ? [...done, key] : [...done].filter((other) => other !== key)));
  const { person_id } = worker;
  const data = { person_id, enterprise: held.enterprise, module: held.module.key, how };
  const send = () => enter({ kind: "module", on, data: missed.length > 0 ? { ...data, missed } : data });
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
          {tasks.length > 0 && (
            <fieldset>
              <legend>{words.form.module.tasks}</legend>
              {tasks.map((t) => (
                <CheckField
                  key={t.key}
                  label={t.text}
                  checked={done.has(t.key)}
                  onChecked={(yes) => tick(t.key, yes)}
                />
              ))}
              <p class="minor">{missed.length > 0 ? words.form.module.missed : words.form.module.all}</p>
            </fieldset>
          )}
          <Choice
            label={words.form.module.how}
            value={how}
            onValue={setHow}
            options={(tasks.length > 0 ? seen : ways).map((value) => ({
              value,
              label: words.people.how[value] ?? value,
            }))}
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
