import "./visits.css";
import { useState } from "preact/hooks";
import { roles } from "../../api/session";
import type { Task, VisitLine } from "../../api/types";
import { Button } from "../../ui/button";
import type { FarmMessages } from "../en";
import { namesOf } from "../packs";
import { personName, usePeople } from "../people";
import { type Names, type Reason, sayReason } from "../reason";
import { farmWords } from "../words";
import { ChangeVisit } from "./plan";
import { FinishVisit, MissVisit } from "./report";
import { visitWords } from "./words";

/** useReasonNames gives the words for keys in reasons of a farm; people are brought by their ids. */
export function useReasonNames(reasons: readonly Reason[], enterprise?: string): Names {
  usePeople(reasons.map((r) => r.values?.person_id as string | undefined));
  return namesOf(enterprise, (kind, key) => (kind === "person" ? personName(key) || undefined : undefined));
}

/** Agenda lists what to do on a farm, each task with the reason that it was made from. */
export function Agenda({ tasks, names }: { tasks: readonly Task[]; names: Names }) {
  return (
    <ol class="agenda">
      {tasks.map((task) => (
        <li key={`${task.do} ${task.key}`}>
          {taskWords(task.do)}
          {task.reason.code && <span class="minor">{sayReason(task.reason, names)}</span>}
        </li>
      ))}
    </ol>
  );
}

function taskWords(code: string): string {
  const agenda: Record<string, string> = farmWords().agenda;
  return agenda[code as keyof FarmMessages["agenda"]] ?? code.replace(/-/g, " ");
}

type Asked = "change" | "finish" | "miss" | null;

/** planning says whether the person signed in plans visits for others. */
export function planning(): boolean {
  return (["manager", "advisor", "administrator"] as const).some((role) => roles.value.includes(role));
}

/** VisitCard is one visit with what it is for, or what came of it, and what can be done with it. */
export function VisitCard({
  visit,
  changed,
  named = true,
  enterprise,
}: {
  visit: VisitLine;
  changed: () => void;
  /** Whether the farm's name stands there: on its own page it does not. */
  named?: boolean;
  enterprise?: string | undefined;
}) {
  const words = visitWords();
  const [asked, ask] = useState<Asked>(null);
  const names = useReasonNames(
    visit.reasons.map((r) => r.reason),
    enterprise,
  );
  const close = () => ask(null);
  return (
    <div class="visit">
      <div class="visit-head">
        {named && <a href={`/farms/${visit.farm_id}`}>{visit.farm}</a>}
        <span class={named ? "minor-inline" : undefined}>
          {named ? placeOf(visit) : whenWords(visit)}
          {visit.state !== "planned" && ` · ${words.states[visit.state]}`}
        </span>
      </div>
      <Outcome visit={visit} />
      {visit.state === "planned" && (
        <>
          <details>
            <summary>{words.agenda}</summary>
            <Agenda tasks={visit.agenda} names={names} />
          </details>
          <div class="buttons no-print">
            <Button onClick={() => ask("finish")} aria-label={words.finishOf(visit.farm, visit.on)}>
              {words.finish}
            </Button>
            <Button onClick={() => ask("miss")} aria-label={words.missOf(visit.farm, visit.on)}>
              {words.miss}
            </Button>
            {planning() && (
              <Button
                kind="quiet"
                onClick={() => ask("change")}
                aria-label={words.changeOf(visit.farm, visit.on)}
              >
                {words.change}
              </Button>
            )}
          </div>
        </>
      )}
      {asked === "finish" && <FinishVisit visit={visit} names={names} onClose={close} changed={changed} />}
      {asked === "miss" && <MissVisit visit={visit} onClose={close} changed={changed} />}
      {asked === "change" && <ChangeVisit visit={visit} onClose={close} changed={changed} />}
    </div>
  );
}

/** placeOf is the town and landmark of a farm. */
export function placeOf({ town, landmark }: { town: string; landmark: string }): string {
  return [town, landmark].filter(Boolean).join(", ");
}

function whenWords(visit: VisitLine): string {
  const words = visitWords();
  if (visit.state === "done") return words.went(visit.officer, visit.done_on || visit.on);
  return visit.state === "missed"
    ? words.missed(visit.officer, visit.on)
    : words.goes(visit.officer, visit.on);
}

function Outcome({ visit }: { visit: VisitLine }) {
  const words = visitWords();
  const text = visit.state === "done" ? visit.findings : visit.state === "missed" ? visit.missed : "";
  if (!text) return null;
  return (
    <p class="visit-outcome">
      {text}
      {visit.dealt.length > 0 && <span class="minor">{words.dealt(visit.dealt.length)}</span>}
    </p>
  );
}
