import { useState } from "preact/hooks";
import type { CyclePage, Pack } from "../../api/types";
import { parseDay } from "../../time/day";
import { Button } from "../../ui/button";
import { personName, usePeople } from "../people";
import type { Names } from "../reason";
import { farmWords } from "../words";
import { MarkMilestone, TakeBack } from "./mark-milestone";
import { MissingList } from "./missing";
import { type Step, stepsOf } from "./steps";
import { pageWords } from "./words";

type Asked = { step: Step; take: boolean } | null;

/** Milestones lists a cycle's milestones: plan, forecast, evidence, go-ahead, and the button to mark one. */
export function Milestones({
  cycle,
  pack,
  names,
}: {
  cycle: CyclePage;
  pack: Pack | undefined;
  names: Names;
}) {
  const [asked, ask] = useState<Asked>(null);
  const words = pageWords().milestones;
  const steps = stepsOf(cycle, pack, names);
  usePeople(steps.map((s) => s.doneBy));
  return (
    <section>
      <h3>{words.title}</h3>
      <div class="ledger-head" aria-hidden="true">
        <span>{words.name}</span>
        <span>{words.planned}</span>
        <span>{words.when}</span>
        <span>{words.evidence}</span>
      </div>
      <ol class="ledger">
        {steps.map((step) => (
          <StepLine key={step.key} step={step} names={names} ask={ask} />
        ))}
      </ol>
      <Rests steps={steps} />
      {asked && !asked.take && (
        <MarkMilestone cycle={cycle} step={asked.step} names={names} onClose={() => ask(null)} />
      )}
      {asked?.take && <TakeBack cycle={cycle} step={asked.step} onClose={() => ask(null)} />}
    </section>
  );
}

// What the durations rest on, once for all steps that share a grade.
function Rests({ steps }: { steps: readonly Step[] }) {
  const words = pageWords();
  const grades = [...new Set(steps.map((s) => s.basis))].filter((grade) => words.grades[grade]);
  if (grades.length === 0) return null;
  return (
    <p class="minor rests">
      {words.milestones.rests}{" "}
      {grades
        .map((grade) => {
          const names = steps.filter((s) => s.basis === grade).map((s) => s.name);
          return `${words.grades[grade]}: ${names.join(", ")}`;
        })
        .join("; ")}
      .
    </p>
  );
}

function StepLine({ step, names, ask }: { step: Step; names: Names; ask: (asked: Asked) => void }) {
  const words = pageWords().milestones;
  const undone = step.state === "open" || step.state === "ahead";
  return (
    <li class={`step step-${step.state}${undone && step.goAhead ? " step-long" : ""}`}>
      <div class="step-name">
        <span class="step-mark" aria-hidden="true" />
        <strong>{step.name}</strong> <span class="step-state">{farmWords().milestoneState[step.state]}</span>
      </div>
      <Planned step={step} />
      <When step={step} />
      <div class="step-evidence">
        {step.grade && <GradeWords step={step} />}
        {undone && (
          <Button
            kind={step.state === "open" ? "plain" : "quiet"}
            onClick={() => ask({ step, take: false })}
            aria-label={words.markOf(step.name)}
          >
            {words.mark}
          </Button>
        )}
        {step.doneOn && (
          <Button kind="quiet" onClick={() => ask({ step, take: true })} aria-label={words.takeOf(step.name)}>
            {words.take}
          </Button>
        )}
      </div>
      {undone && step.goAhead && <GoAheadLine step={step} names={names} />}
    </li>
  );
}

function Planned({ step }: { step: Step }) {
  const words = pageWords().milestones;
  const { window } = step;
  if (!window || step.state === "implied") return <div />;
  const oneDay = window.earliest === window.latest;
  if (oneDay && window.target === step.doneOn) return <div />;
  return (
    <div class="step-planned">
      <span class="label-when-narrow">{words.planned}: </span>
      {oneDay ? words.done(window.target) : words.between(window.earliest, window.latest)}
      {!oneDay && <span class="minor">{words.target(window.target)}</span>}
    </div>
  );
}

function When({ step }: { step: Step }) {
  const words = pageWords().milestones;
  const late = lateness(step);
  return (
    <div class="step-when">
      {step.doneOn && (
        <>
          <span class="label-when-narrow">{farmWords().milestoneState.done}: </span>
          {words.done(step.doneOn)}
        </>
      )}
      {step.expected && (
        <>
          {words.likely(step.expected.p50)}
          <span class="minor">{words.before(step.expected.p90)}</span>
        </>
      )}
      {late !== 0 && <span class="minor">{words.late(late)}</span>}
    </div>
  );
}

function lateness({ doneOn, expected, window }: Step): number {
  const at = parseDay(doneOn || expected?.p50);
  const target = parseDay(window?.target);
  return at === null || target === null ? 0 : at - target;
}

function GradeWords({ step }: { step: Step }) {
  const words = pageWords().milestones;
  const by = personName(step.doneBy);
  const grade = farmWords().grade[step.grade as keyof ReturnType<typeof farmWords>["grade"]] ?? step.grade;
  return (
    <span>
      {grade}
      {by && <span class="minor">{words.by(by)}</span>}
    </span>
  );
}

function GoAheadLine({ step, names }: { step: Step; names: Names }) {
  const words = pageWords().milestones;
  const goAhead = step.goAhead;
  if (!goAhead) return null;
  if (goAhead.missing.length === 0) {
    return (
      <p class="go-ahead">
        {goAhead.name}: {words.holds}
      </p>
    );
  }
  return (
    <details class="go-ahead" data-print>
      <summary>
        {goAhead.name}: {words.lacks(goAhead.missing.length)}
      </summary>
      <MissingList missing={goAhead.missing} names={names} />
    </details>
  );
}
