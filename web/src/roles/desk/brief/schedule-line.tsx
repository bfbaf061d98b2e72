import type { FarmPage, UnitPage } from "../../../api/types";
import { namesOf, packOf } from "../../../farm/packs";
import { harvestKey, stripOf } from "../../../farm/strip-of";
import type { Standing as StandingName } from "../../../farm/words";
import { Standing } from "../../../marks/marks";
import { StripRow } from "../../../strip/strip";
import { deskWords } from "../words";
import { Line } from "./line";

/** mostUnits is how many units a line names: it stays short for most farms, and the rest is behind a key. */
export const mostUnits = 2;

/** ScheduleLine is the strip of each unit with its standing, its slip and what holds it up. */
export function ScheduleLine({ farm }: { farm: FarmPage }) {
  const words = deskWords().brief;
  const units = worstFirst(farm.units);
  return (
    <Line name={words.lines.schedule}>
      {units.length === 0 && words.noUnits}
      {units.slice(0, mostUnits).map((unit) => (
        <UnitSchedule key={unit.id} unit={unit} />
      ))}
      {units.length > mostUnits && <p class="field-hint">{words.andUnits(units.length - mostUnits)}</p>}
    </Line>
  );
}

const badness: readonly string[] = [
  "behind",
  "no-news",
  "slipping",
  "to-confirm",
  "paused",
  "on-course",
  "complete",
];

/** worstFirst puts the units that need a word first. */
export function worstFirst(units: readonly UnitPage[]): UnitPage[] {
  const rank = (u: UnitPage) => {
    const at = badness.indexOf(u.cycle?.outlook?.standing ?? "");
    return at < 0 ? badness.length : at;
  };
  return [...units].sort((a, b) => rank(a) - rank(b));
}

function UnitSchedule({ unit }: { unit: UnitPage }) {
  const words = deskWords().brief;
  const outlook = unit.cycle?.outlook;
  const pack = packOf(unit.enterprise);
  const names = namesOf(unit.enterprise);
  if (!outlook) {
    return (
      <p class="unit-line">
        <b>{unit.name}</b> {unit.cycle ? words.notSwept : words.noCycle}
      </p>
    );
  }
  return (
    <div class="unit-schedule">
      <p class="unit-line">
        <b>{unit.name}</b>
        <Standing standing={outlook.standing as StandingName} />
        <StripRow strip={stripOf(outlook, harvestKey(outlook, pack), names)} width={240} />
      </p>
      {outlook.hold_up && (
        <p class="field-hint">{words.holdUp(names("milestone", outlook.hold_up) ?? outlook.hold_up)}</p>
      )}
      {outlook.harvest.p50 && (
        <p class="field-hint">{words.harvest(outlook.harvest.p50, outlook.harvest.p90)}</p>
      )}
    </div>
  );
}
