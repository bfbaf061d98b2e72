import { useState } from "preact/hooks";
import { explainField } from "../../api/explain";
import { person } from "../../api/session";
import type { CyclePage, Pause } from "../../api/types";
import { isoOf, parseDay, today } from "../../time/day";
import { Button } from "../../ui/button";
import { DateField } from "../../ui/date-field";
import { TextArea } from "../../ui/field";
import { FormDialog } from "../../ui/form-dialog";
import { personName, usePeople } from "../people";
import { leads, useFarm } from "./context";
import { longestNote, useEntry } from "./entry";
import { pageWords } from "./words";

/** The days for which one person may pause a cycle alone, as the server has them. */
const aloneDays = 14;

type Asked = { what: "start" } | { what: "agree" | "end"; pause: Pause } | null;

/** Pauses lists the pauses of a cycle and lets a manager start one, agree to one, and anyone of the firm end one. */
export function Pauses({ cycle }: { cycle: CyclePage }) {
  const [asked, ask] = useState<Asked>(null);
  const words = pageWords();
  const { farm } = useFarm();
  const now = isoOf(today(farm.branch.time_zone));
  const running = cycle.pauses.some((p) => !p.ended_on || p.ended_on > now);
  usePeople(cycle.pauses.flatMap((p) => [p.asked_by, p.agreed_by]));
  if (cycle.pauses.length === 0 && !leads()) return null;
  return (
    <section>
      <h3>{words.parts.pauses}</h3>
      {cycle.pauses.length === 0 && <p class="empty">{words.pauses.none}</p>}
      <ul class="ruled">
        {cycle.pauses.map((pause) => (
          <PauseLine key={pause.id} pause={pause} ask={ask} />
        ))}
      </ul>
      {leads() && !running && <Button onClick={() => ask({ what: "start" })}>{words.pauses.start}</Button>}
      {asked?.what === "start" && <StartPause cycle={cycle} onClose={() => ask(null)} />}
      {asked?.what === "agree" && (
        <AgreeToPause cycle={cycle} pause={asked.pause} onClose={() => ask(null)} />
      )}
      {asked?.what === "end" && <EndPause cycle={cycle} pause={asked.pause} onClose={() => ask(null)} />}
    </section>
  );
}

function PauseLine({ pause, ask }: { pause: Pause; ask: (asked: Asked) => void }) {
  const words = pageWords().pauses;
  const long = (parseDay(pause.until) ?? 0) - (parseDay(pause.from) ?? 0) > aloneDays;
  const open = !pause.ended_on;
  const mine = pause.asked_by === person.value?.id;
  const agreed = personName(pause.agreed_by);
  const facts = [
    words.since(pause.from, pause.until),
    pause.ended_on ? words.ended(pause.ended_on) : words.running,
    personName(pause.asked_by),
    pause.agreed_by ? `${words.agreed}${agreed && ` (${agreed})`}` : long && open ? words.alone : "",
  ];
  return (
    <li class="pause-line">
      <div>
        {pause.reason}
        <span class="minor">{facts.filter(Boolean).join(" · ")}</span>
      </div>
      {open && (
        <div class="buttons">
          {long && !pause.agreed_by && leads() && !mine && (
            <Button onClick={() => ask({ what: "agree", pause })}>{words.agree}</Button>
          )}
          <Button onClick={() => ask({ what: "end", pause })}>{words.end}</Button>
        </div>
      )}
    </li>
  );
}

function StartPause({ cycle, onClose }: { cycle: CyclePage; onClose: () => void }) {
  const words = pageWords().form;
  const { farm } = useFarm();
  const enter = useEntry();
  const [on, setOn] = useState(isoOf(today(farm.branch.time_zone)));
  const [until, setUntil] = useState("");
  const [reason, setReason] = useState("");
  const long = (parseDay(until) ?? 0) - (parseDay(on) ?? 0) > aloneDays;
  const send = () =>
    enter({ kind: "pause", cycle_id: cycle.id, on, data: { ...(until ? { until } : {}), reason } });
  return (
    <FormDialog
      title={words.pause.title}
      send={send}
      onClose={onClose}
      done={words.saved}
      texts={words.problems}
    >
      {(error) => (
        <>
          <p class="field-hint">{words.pause.hint}</p>
          <DateField
            label={words.pause.from}
            value={on}
            onValue={setOn}
            error={explainField(error, "on", words.problems)}
          />
          <DateField
            label={words.pause.until}
            value={until}
            onValue={setUntil}
            min={on}
            hint={long ? words.pause.second : undefined}
            error={explainField(error, "data.until", words.problems)}
          />
          <TextArea
            label={words.pause.reason}
            value={reason}
            onValue={setReason}
            rows={2}
            maxLength={longestNote}
            error={explainField(error, "data.reason", words.problems)}
          />
        </>
      )}
    </FormDialog>
  );
}

function AgreeToPause({ cycle, pause, onClose }: { cycle: CyclePage; pause: Pause; onClose: () => void }) {
  const words = pageWords().form;
  const { farm } = useFarm();
  const enter = useEntry();
  const on = isoOf(today(farm.branch.time_zone));
  return (
    <FormDialog
      title={words.pause.agreeTitle}
      save={words.pause.agree}
      send={() => enter({ kind: "pause-agreed", cycle_id: cycle.id, on, data: { pause_id: pause.id } })}
      onClose={onClose}
      done={words.saved}
      texts={words.problems}
    >
      {() => (
        <>
          <p>{words.pause.agreeText}</p>
          <p>
            {pause.reason} ({pageWords().pauses.since(pause.from, pause.until)})
          </p>
        </>
      )}
    </FormDialog>
  );
}

function EndPause({ cycle, pause, onClose }: { cycle: CyclePage; pause: Pause; onClose: () => void }) {
  const words = pageWords().form;
  const { farm } = useFarm();
  const enter = useEntry();
  const [on, setOn] = useState(isoOf(today(farm.branch.time_zone)));
  return (
    <FormDialog
      title={words.pause.endTitle}
      send={() => enter({ kind: "pause-ended", cycle_id: cycle.id, on, data: { pause_id: pause.id } })}
      onClose={onClose}
      done={words.saved}
      texts={words.problems}
    >
      {(error) => (
        <DateField
          label={words.pause.endOn}
          value={on}
          onValue={setOn}
          min={pause.from}
          error={explainField(error, "on", words.problems)}
          quick
        />
      )}
    </FormDialog>
  );
}
