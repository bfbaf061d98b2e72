import { useState } from "preact/hooks";
import { explainField } from "../../api/explain";
import type { CyclePage } from "../../api/types";
import { isoOf, today } from "../../time/day";
import { DateField } from "../../ui/date-field";
import { TextArea } from "../../ui/field";
import { FormDialog } from "../../ui/form-dialog";
import type { Names } from "../reason";
import { useFarm } from "./context";
import { longestNote, useEntry } from "./entry";
import { type GivenGrade, GradeChoice } from "./grade-choice";
import { Refused } from "./refused";
import type { Step } from "./steps";
import { pageWords } from "./words";

/**
 * MarkMilestone marks a milestone as done. Where its go-ahead does not hold the
 * server refuses, and the form says what is missing and offers to mark it anyway.
 */
export function MarkMilestone({
  cycle,
  step,
  names,
  onClose,
}: {
  cycle: CyclePage;
  step: Step;
  names: Names;
  onClose: () => void;
}) {
  const words = pageWords().form;
  const { farm } = useFarm();
  const enter = useEntry();
  const [on, setOn] = useState(isoOf(today(farm.branch.time_zone)));
  const [grade, setGrade] = useState<GivenGrade>("staff-saw");
  const [note, setNote] = useState("");
  const [anyway, setAnyway] = useState(false);
  const send = () =>
    enter({
      kind: "milestone",
      cycle_id: cycle.id,
      on,
      data: { milestone: step.key, grade, ...(note.trim() ? { note } : {}), ...(anyway ? { anyway } : {}) },
    });
  return (
    <FormDialog
      title={words.milestone.title(step.name)}
      send={send}
      onClose={onClose}
      done={words.saved}
      texts={words.problems}
    >
      {(error) => (
        <>
          <Refused error={error} goAhead={step.goAhead} names={names} anyway={anyway} setAnyway={setAnyway} />
          <DateField
            label={words.day}
            value={on}
            onValue={setOn}
            error={explainField(error, "on", words.problems)}
            quick
          />
          <GradeChoice
            value={grade}
            onValue={setGrade}
            error={explainField(error, "data.grade", words.problems)}
          />
          <TextArea
            label={words.note}
            value={note}
            onValue={setNote}
            optional
            rows={2}
            maxLength={longestNote}
            error={explainField(error, "data.note", words.problems)}
          />
        </>
      )}
    </FormDialog>
  );
}

/** TakeBack says that a milestone was marked by mistake. */
export function TakeBack({ cycle, step, onClose }: { cycle: CyclePage; step: Step; onClose: () => void }) {
  const words = pageWords().form;
  const { farm } = useFarm();
  const enter = useEntry();
  const [note, setNote] = useState("");
  const send = () =>
    enter({
      kind: "not-done",
      cycle_id: cycle.id,
      on: isoOf(today(farm.branch.time_zone)),
      data: { milestone: step.key, note },
    });
  return (
    <FormDialog
      title={words.milestone.takeTitle(step.name)}
      send={send}
      onClose={onClose}
      done={words.saved}
      texts={words.problems}
    >
      {(error) => (
        <TextArea
          label={words.milestone.whyTakeBack}
          hint={words.milestone.takeHint}
          value={note}
          onValue={setNote}
          rows={3}
          maxLength={longestNote}
          error={explainField(error, "data.note", words.problems)}
        />
      )}
    </FormDialog>
  );
}
