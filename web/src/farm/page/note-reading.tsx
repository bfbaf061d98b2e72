import { useState } from "preact/hooks";
import { explainField } from "../../api/explain";
import { Problem } from "../../api/problem";
import type { CyclePage } from "../../api/types";
import { formats } from "../../i18n/format";
import { isoOf, today } from "../../time/day";
import { DateField } from "../../ui/date-field";
import { TextArea } from "../../ui/field";
import { FormDialog } from "../../ui/form-dialog";
import { NumberField } from "../../ui/number-field";
import { useFarm } from "./context";
import { emptyField, useEntry } from "./entry";
import { parseWeights } from "./looks";
import { pageWords } from "./words";

/** NoteCover takes a reading of plant cover. */
export function NoteCover({ cycle, onClose }: { cycle: CyclePage; onClose: () => void }) {
  const words = pageWords().form;
  const { farm } = useFarm();
  const enter = useEntry();
  const [percent, setPercent] = useState<number | null>(null);
  const [on, setOn] = useState(isoOf(today(farm.branch.time_zone)));
  const send = async () => {
    if (percent === null) throw emptyField("percent");
    await enter({ kind: "cover", cycle_id: cycle.id, on, data: { percent } });
  };
  return (
    <FormDialog
      title={words.cover.title}
      send={send}
      onClose={onClose}
      done={words.saved}
      texts={words.problems}
    >
      {(error) => (
        <>
          <NumberField
            label={words.cover.percent}
            hint={words.cover.hint}
            value={percent}
            onValue={setPercent}
            measure="%"
            min={0}
            max={100}
            error={explainField(error, "data.percent", words.problems)}
          />
          <DateField
            label={words.day}
            value={on}
            onValue={setOn}
            error={explainField(error, "on", words.problems)}
            quick
          />
        </>
      )}
    </FormDialog>
  );
}

/** NoteWeights takes a sample: weights one by one, or only how many and their mean. */
export function NoteWeights({ cycle, onClose }: { cycle: CyclePage; onClose: () => void }) {
  const words = pageWords().form;
  const { farm } = useFarm();
  const enter = useEntry();
  const [list, setList] = useState("");
  const [n, setN] = useState<number | null>(null);
  const [mean, setMean] = useState<number | null>(null);
  const [on, setOn] = useState(isoOf(today(farm.branch.time_zone)));
  const { weights, bad } = parseWeights(list);
  const send = async () => {
    if (bad) throw new Problem(422, "entry-refused", "");
    if (weights.length === 0 && (n === null || mean === null)) throw emptyField("weights_g");
    const data = weights.length > 0 ? { weights_g: weights } : { n, mean_g: mean };
    await enter({ kind: "weights", cycle_id: cycle.id, on, data });
  };
  return (
    <FormDialog
      title={words.weights.title}
      send={send}
      onClose={onClose}
      done={words.saved}
      texts={words.problems}
    >
      {(error) => (
        <>
          <TextArea
            label={words.weights.list}
            hint={words.weights.listHint}
            value={list}
            onValue={setList}
            rows={3}
            maxLength={8000}
            error={bad ? words.weights.bad(bad) : explainField(error, "data.weights_g", words.problems)}
          />
          <p role="status">{weights.length > 0 && !bad && words.weights.read(...summary(weights))}</p>
          <fieldset class="group">
            <legend>{words.weights.or}</legend>
            <NumberField
              label={words.weights.n}
              value={n}
              onValue={setN}
              whole
              min={1}
              max={1000}
              optional
              disabled={weights.length > 0}
              error={explainField(error, "data.n", words.problems)}
            />
            <NumberField
              label={words.weights.mean}
              value={mean}
              onValue={setMean}
              measure="g"
              min={0}
              max={50_000}
              optional
              disabled={weights.length > 0}
              error={explainField(error, "data.mean_g", words.problems)}
            />
          </fieldset>
          <DateField
            label={words.day}
            value={on}
            onValue={setOn}
            error={explainField(error, "on", words.problems)}
            quick
          />
        </>
      )}
    </FormDialog>
  );
}

function summary(weights: readonly number[]): [string, string] {
  const { number, measure } = formats();
  const mean = weights.reduce((sum, w) => sum + w, 0) / weights.length;
  return [number(weights.length), measure(mean, "g", 1)];
}
