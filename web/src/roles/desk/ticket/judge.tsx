import { Urgency } from "../../../marks/marks";
import { Choice, SelectField } from "../../../ui/choice";
import { CheckField } from "../../../ui/field";
import { deskWords } from "../words";
import { type Impact, impacts, type Judgement, type TimeToLoss, timesToLoss, urgencyOf } from "./urgency";

interface JudgeProps {
  value: Judgement;
  onValue: (value: Judgement) => void;
}

/** Judge asks how much is at stake and how soon it is lost, and shows at once what that makes it. */
export function Judge({ value, onValue }: JudgeProps) {
  const words = deskWords().ticket.judge;
  return (
    <div class="judge">
      <Choice<Impact>
        label={words.impact}
        options={impacts.map((v) => ({ value: v, label: words.impacts[v] }))}
        value={value.impact}
        onValue={(impact) => onValue({ ...value, impact })}
      />
      <Choice<TimeToLoss>
        label={words.time}
        options={timesToLoss.map((v) => ({ value: v, label: words.times[v] }))}
        value={value.timeToLoss}
        onValue={(timeToLoss) => onValue({ ...value, timeToLoss })}
      />
      <div class="judge-end">
        <CheckField
          label={words.danger}
          hint={words.dangerHint}
          checked={value.danger}
          onChecked={(danger) => onValue({ ...value, danger })}
        />
        <ComesTo value={value} />
      </div>
    </div>
  );
}

/** JudgeRow asks the same in one row, for where there is little room. */
export function JudgeRow({ value, onValue }: JudgeProps) {
  const words = deskWords().ticket.judge;
  return (
    <div class="judge-row">
      <SelectField<Impact>
        label={words.impact}
        options={impacts.map((v) => ({ value: v, label: words.impacts[v] }))}
        value={value.impact}
        onValue={(impact) => impact && onValue({ ...value, impact })}
      />
      <SelectField<TimeToLoss>
        label={words.time}
        options={timesToLoss.map((v) => ({ value: v, label: words.times[v] }))}
        value={value.timeToLoss}
        onValue={(timeToLoss) => timeToLoss && onValue({ ...value, timeToLoss })}
      />
      <div class="judge-end">
        <CheckField
          label={words.danger}
          checked={value.danger}
          onChecked={(danger) => onValue({ ...value, danger })}
        />
        <ComesTo value={value} />
      </div>
    </div>
  );
}

function ComesTo({ value }: { value: Judgement }) {
  return (
    <p class="comes-to" role="status">
      {deskWords().ticket.judge.comesTo} <Urgency urgency={urgencyOf(value)} />
    </p>
  );
}
