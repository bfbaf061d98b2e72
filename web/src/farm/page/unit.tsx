import type { UnitPage } from "../../api/types";
import { enterpriseName, namesOf, packOf } from "../packs";
import { BuildSheetView } from "./build-sheet";
import { Checklists } from "./checklists";
import { Milestones } from "./milestones";
import { Pauses } from "./pauses";
import { Readings } from "./readings";
import { CycleStanding, Schedule } from "./schedule";
import { Stock } from "./stock";
import { pageWords } from "./words";

/** Unit is one enclosure with its cycle: schedule, milestones, checklists, readings, and what was built. */
export function Unit({ unit }: { unit: UnitPage }) {
  const words = pageWords();
  const pack = packOf(unit.enterprise);
  const names = namesOf(unit.enterprise);
  const { cycle } = unit;
  const id = `unit-${unit.id}`;
  return (
    <section class="unit" id={id} aria-labelledby={`${id}-title`}>
      <header class="unit-head">
        <h2 id={`${id}-title`}>{unit.name}</h2>
        {cycle?.outlook && <CycleStanding outlook={cycle.outlook} />}
        <span class="minor-inline">
          {cycle
            ? words.cycle(
                enterpriseName(unit.enterprise),
                words.purposes[cycle.purpose] ?? cycle.purpose,
                cycle.started_on,
              )
            : `${enterpriseName(unit.enterprise)}. ${words.noCycle}`}
        </span>
        <a class="unit-ahead no-print" href={`/farms/${unit.farm_id}/ahead/${unit.id}`}>
          {words.ahead}
        </a>
        <a class="unit-paper no-print" href={`/farms/${unit.farm_id}/daybook/${unit.id}`}>
          {words.daybookOnPaper}
        </a>
      </header>
      {cycle && (
        <>
          <Schedule cycle={cycle} pack={pack} names={names} />
          <Milestones cycle={cycle} pack={pack} names={names} />
          {pack && <Checklists cycle={cycle} pack={pack} />}
          <Readings unit={unit.name} cycle={cycle} pack={pack} />
          <Pauses cycle={cycle} />
        </>
      )}
      <div class="unit-build">
        <BuildSheetView unit={unit} pack={pack} />
        <Stock unit={unit} pack={pack} />
      </div>
    </section>
  );
}
