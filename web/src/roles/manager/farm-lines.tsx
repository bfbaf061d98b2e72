import type { CycleRow, FarmRow } from "../../api/types";
import { namesOf, packOf } from "../../farm/packs";
import { harvestKey, stripOf } from "../../farm/strip-of";
import { tellReasons } from "../../farm/told";
import { placeOf } from "../../farm/visits/visit";
import type { Standing as StandingName } from "../../farm/words";
import { Standing } from "../../marks/marks";
import type { Span } from "../../strip/data";
import { StripRow } from "../../strip/strip";
import { axisOf } from "./axis";
import { managerWords } from "./words";

/** FarmLines are farms with their standing and a strip for each cycle, all on one time line. */
export function FarmLines({ farms }: { farms: readonly FarmRow[] }) {
  const words = managerWords().farms;
  const axis = axisOf(farms.flatMap((f) => f.cycles));
  return (
    <>
      <div class="lines-head" aria-hidden="true">
        <span>{words.name}</span>
        <span>{words.standing}</span>
        <span>{words.strip}</span>
        <span>{words.why}</span>
      </div>
      <ul class="lines">
        {farms.map((farm) => (
          <FarmLine key={farm.id} farm={farm} axis={axis} />
        ))}
      </ul>
    </>
  );
}

function FarmLine({ farm, axis }: { farm: FarmRow; axis: Span | undefined }) {
  const words = managerWords().farms;
  return (
    <li class="line">
      <div>
        <a class="line-farm" href={`/farms/${farm.id}`}>
          {farm.name}
        </a>
        <span class="minor">{[placeOf(farm), farm.client].filter(Boolean).join(" · ")}</span>
      </div>
      <div>
        {farm.standing && <Standing standing={farm.standing as StandingName} />}
        {!farm.watched_on && farm.standing !== "to-confirm" && <span class="minor">{words.notWatched}</span>}
      </div>
      <div class="line-cycles">
        {farm.cycles.length === 0 && <span class="minor">{words.noCycle}</span>}
        {farm.cycles.map((cycle) => (
          <CycleLine key={cycle.cycle_id} cycle={cycle} axis={axis} named={farm.cycles.length > 1} />
        ))}
      </div>
    </li>
  );
}

function CycleLine({ cycle, axis, named }: { cycle: CycleRow; axis: Span | undefined; named: boolean }) {
  const words = managerWords().farms;
  const { outlook, enterprise } = cycle;
  const names = namesOf(enterprise);
  if (!outlook) return <p class="minor">{words.notSwept}</p>;
  const holdUp =
    outlook.hold_up && (names("milestone", outlook.hold_up) ?? outlook.hold_up.replace(/-/g, " "));
  return (
    <div class="line-cycle">
      <div>
        {named && <span class="minor">{cycle.unit}</span>}
        <StripRow
          strip={stripOf(outlook, harvestKey(outlook, packOf(enterprise)), names)}
          {...(axis ? { axis } : {})}
        />
      </div>
      <p>
        {tellReasons(outlook.reasons, names).first} {holdUp && words.holdUp(holdUp)}
      </p>
    </div>
  );
}
