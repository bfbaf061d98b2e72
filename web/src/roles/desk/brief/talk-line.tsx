import { dayOf, isoOf, parseDay, today } from "../../../time/day";
import { zoneOf } from "../firm";
import type { Promised } from "../server";
import { deskWords } from "../words";
import { type BriefData, lastAdvice } from "./data";
import { Dotted, Line } from "./line";

/** TalkLine is the last advice given and what is promised and not kept. */
export function TalkLine({ data }: { data: BriefData }) {
  const words = deskWords().brief;
  const zone = zoneOf(data.farm.branch_id);
  const last = lastAdvice(data.calls);
  return (
    <Line name={words.lines.talk}>
      {last ? (
        <p class="cut-two">
          <q>{last.advice}</q>{" "}
          <span class="field-hint-inline">
            {words.advice(isoOf(dayOf(new Date(last.started_at), zone)), last.taker)}
          </span>
        </p>
      ) : (
        <p>{words.noAdvice}</p>
      )}
      {data.promises.slice(0, 2).map((promise) => (
        <OpenPromise key={promise.id} promise={promise} day={today(zone)} />
      ))}
      {data.promises.length === 0 && <p class="field-hint">{words.noPromise}</p>}
    </Line>
  );
}

function OpenPromise({ promise, day }: { promise: Promised; day: number }) {
  const words = deskWords().brief;
  const late = day - (parseDay(promise.due_on) ?? day);
  const kinds = deskWords().promises.kinds;
  return (
    <p class="unit-line">
      <b>{kinds[promise.kind] ?? promise.kind}</b>
      <Dotted
        parts={[
          promise.text,
          words.promise(promise.due_on),
          late > 0 && <strong class="row-overdue">{words.late(late)}</strong>,
        ]}
      />
    </p>
  );
}
