import { useState } from "preact/hooks";
import { explainField } from "../../api/explain";
import type { CyclePage, Pack, PackItem } from "../../api/types";
import { isoOf, today } from "../../time/day";
import { Choice } from "../../ui/choice";
import { DateField } from "../../ui/date-field";
import { CheckField, TextArea } from "../../ui/field";
import { FormDialog } from "../../ui/form-dialog";
import { NumberField } from "../../ui/number-field";
import { said } from "../packs";
import { useFarm } from "./context";
import { longestNote, useEntry } from "./entry";
import { type GivenGrade, GradeChoice } from "./grade-choice";
import { measureName, rangeWords } from "./measured";
import { pageWords } from "./words";

type Answer = "yes" | "no" | "not-needed";

/** MarkItem notes what was seen of one checklist item: yes, no, not needed, or the value that was measured. */
export function MarkItem({
  cycle,
  item,
  pack,
  onClose,
}: {
  cycle: CyclePage;
  item: PackItem;
  pack: Pack;
  onClose: () => void;
}) {
  const words = pageWords().form;
  const { farm } = useFarm();
  const enter = useEntry();
  const [answer, setAnswer] = useState<Answer | "">("");
  const [value, setValue] = useState<number | null>(null);
  const [on, setOn] = useState(isoOf(today(farm.branch.time_zone)));
  const [grade, setGrade] = useState<GivenGrade>("staff-saw");
  const [note, setNote] = useState("");
  const send = () =>
    enter({ kind: "item", cycle_id: cycle.id, on, data: itemData(item, { answer, value, grade, note }) });
  return (
    <FormDialog
      title={words.item.title}
      send={send}
      onClose={onClose}
      done={words.saved}
      texts={words.problems}
    >
      {(error) => (
        <>
          <p>{said(item.text)}</p>
          <p class="field-hint">{said(item.help)}</p>
          {item.caution && pack.cautions[item.caution] && <p>{said(pack.cautions[item.caution])}</p>}
          {item.measured ? (
            <Measured
              measured={item.measured}
              value={value}
              setValue={setValue}
              answer={answer}
              setAnswer={setAnswer}
              error={explainField(error, "data.value", words.problems)}
            />
          ) : (
            <Choice
              label={words.item.answer}
              value={answer}
              onValue={setAnswer}
              options={answers()}
              error={explainField(error, "data.answer", words.problems)}
            />
          )}
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

function answers() {
  const words = pageWords().checklist.answers;
  return (["yes", "no", "not-needed"] as const).map((value) => ({ value, label: words[value] ?? value }));
}

function Measured({
  measured,
  value,
  setValue,
  answer,
  setAnswer,
  error,
}: {
  measured: NonNullable<PackItem["measured"]>;
  value: number | null;
  setValue: (value: number | null) => void;
  answer: Answer | "";
  setAnswer: (answer: Answer | "") => void;
  error: string | undefined;
}) {
  const words = pageWords().form.item;
  const notNeeded = answer === "not-needed";
  return (
    <>
      <NumberField
        label={words.value}
        hint={rangeWords(measured)}
        value={value}
        onValue={setValue}
        measure={measureName(measured.measure)}
        disabled={notNeeded}
        error={error}
      />
      <CheckField
        label={words.notNeeded}
        checked={notNeeded}
        onChecked={(checked) => setAnswer(checked ? "not-needed" : "")}
      />
    </>
  );
}

/** itemData is the data of an item entry: the server works the answer of a measured item out from its value. */
export function itemData(
  item: Pick<PackItem, "key" | "measured">,
  given: { answer: Answer | ""; value: number | null; grade: GivenGrade; note: string },
): Record<string, unknown> {
  const measured = item.measured && given.answer !== "not-needed";
  return {
    item: item.key,
    ...(measured || given.answer === "" ? {} : { answer: given.answer }),
    ...(measured && given.value !== null ? { value: given.value } : {}),
    grade: given.grade,
    ...(given.note.trim() ? { note: given.note } : {}),
  };
}
