import type { CycleRow, Scored, VisitNeed } from "../../api/types";
import { namesOf, packOf } from "../../farm/packs";
import { personName, usePeople } from "../../farm/people";
import { type Names, sayReason } from "../../farm/reason";
import { harvestKey, stripOf } from "../../farm/strip-of";
import { Agenda, placeOf, useReasonNames } from "../../farm/visits/visit";
import { visitWords } from "../../farm/visits/words";
import type { Standing as StandingName } from "../../farm/words";
import { farmWords } from "../../farm/words";
import { formats } from "../../i18n/format";
import { Standing } from "../../marks/marks";
import { StripRow } from "../../strip/strip";
import { parseDay } from "../../time/day";
import { Button } from "../../ui/button";
import { everyDays } from "./every";
import { managerWords } from "./words";

/** rowId is the id of a farm's line in the list, so that the map can lead to it. */
export function rowId(farmId: string): string {
  return `need-${farmId}`;
}

/** NeedLine is one farm that needs a visit: why, how much, what to do there, and the button that plans it. */
export function NeedLine({
  need,
  on,
  chosen,
  onChosen,
  onPlan,
}: {
  need: VisitNeed;
  on: string;
  chosen: boolean;
  onChosen: () => void;
  onPlan: () => void;
}) {
  const words = managerWords().needs;
  const scored = all(need);
  const names = useReasonNames(
    [...scored, ...need.why_not_higher.uncounted].map((r) => r.reason),
    need.cycles[0]?.enterprise,
  );
  return (
    // biome-ignore lint/a11y/useKeyWithMouseEvents: the focus does the same as the pointer
    <li
      id={rowId(need.farm_id)}
      class={chosen ? "need need-chosen" : "need"}
      onMouseOver={onChosen}
      onFocusCapture={onChosen}
    >
      <div class="need-head">
        <a class="need-farm" href={`/farms/${need.farm_id}`}>
          {need.farm}
        </a>
        <Standing standing={need.standing as StandingName} />
        <span class="minor-inline">{[placeOf(need), need.client].filter(Boolean).join(" · ")}</span>
        <span class="need-points">
          {need.must_go.length > 0 ? words.mustGoWord : words.points(need.points)}
        </span>
      </div>
      <Reasons scored={scored.filter((r) => r.counted || need.must_go.includes(r))} names={names} />
      <p class="need-visit">
        <LastVisit need={need} on={on} />
        <Planned need={need} />
      </p>
      <Strips cycles={need.cycles} />
      <div class="need-more">
        <details>
          <summary>{words.agenda}</summary>
          <Agenda tasks={need.agenda} names={names} />
        </details>
        <details>
          <summary aria-label={words.whyOf(need.farm)}>{words.why}</summary>
          <WhyNotHigher need={need} names={names} />
        </details>
        <Button onClick={onPlan} aria-label={visitWords().planOf(need.farm)}>
          {visitWords().plan}
        </Button>
      </div>
    </li>
  );
}

function all(need: VisitNeed): Scored[] {
  return [...need.must_go, ...need.reasons];
}

function Reasons({ scored, names }: { scored: readonly Scored[]; names: Names }) {
  const words = managerWords().needs;
  return (
    <ul class="scored">
      {scored.map((r) => (
        <li key={r.key}>
          <span class="scored-points">{r.points > 0 ? words.points(r.points) : words.mustGoWord}</span>
          <span>{sayReason(r.reason, names)}</span>
        </li>
      ))}
    </ul>
  );
}

function LastVisit({ need, on }: { need: VisitNeed; on: string }) {
  const words = managerWords().needs;
  const [last, now] = [parseDay(need.last_visit), parseDay(on)];
  const every = everyDays(need);
  const sentence =
    last === null || now === null
      ? words.noVisit
      : words.lastVisit(need.last_visit, formats().ago(last, now));
  // The reason in the list says it already.
  if (all(need).some((r) => r.group === "interval")) return null;
  return <>{`${sentence}${every ? `; ${words.every(every)}` : ""}.`}</>;
}

function Planned({ need }: { need: VisitNeed }) {
  const words = managerWords().needs;
  usePeople(need.planned.map((p) => p.officer_id));
  if (need.planned.length === 0) return null;
  const told = need.planned.map((p) => words.planned(personName(p.officer_id) || words.someone, p.on));
  return <strong> {told.join("; ")}.</strong>;
}

function Strips({ cycles }: { cycles: readonly CycleRow[] }) {
  return (
    <>
      {cycles.map(
        ({ cycle_id, enterprise, unit, outlook }) =>
          outlook && (
            <div key={cycle_id} class="need-strip">
              {cycles.length > 1 && <span class="minor-inline">{unit}</span>}
              <StripRow
                strip={stripOf(outlook, harvestKey(outlook, packOf(enterprise)), namesOf(enterprise))}
              />
            </div>
          ),
      )}
    </>
  );
}

function WhyNotHigher({ need, names }: { need: VisitNeed; names: Names }) {
  const words = managerWords().needs;
  const { uncounted, next } = need.why_not_higher;
  if (uncounted.length === 0 && next.length === 0) return <p>{words.nothing}</p>;
  return (
    <>
      {uncounted.length > 0 && (
        <>
          <p>{words.uncounted}</p>
          <ul>
            {uncounted.map((r) => (
              <li key={r.key}>
                {sayReason(r.reason, names)}{" "}
                <span class="minor-inline">
                  ({causeWords(r.group)}, {words.points(r.points)})
                </span>
              </li>
            ))}
          </ul>
        </>
      )}
      {next.length > 0 && (
        <>
          <p>{words.next}</p>
          <ul>
            {next.map((n) => (
              <li key={`${n.in_days} ${n.scored.key}`}>
                {words.nextIn(n.in_days, n.must ? words.mustGoWord : words.points(n.adds))}{" "}
                {sayReason(n.scored.reason, names)}
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}

function causeWords(group: string): string {
  const causes: Record<string, string> = farmWords().causes;
  return causes[group] ?? group;
}
