import { namesOf, packOf } from "../../../farm/packs";
import { BuildSheetView } from "../../../farm/page/build-sheet";
import { FarmProvider } from "../../../farm/page/context";
import { Milestones } from "../../../farm/page/milestones";
import { People } from "../../../farm/page/people";
import { Timeline } from "../../../farm/page/timeline";
import "../../../farm/page/farm.css";
import type { FarmPage } from "../../../api/types";
import type { PartName } from "./part-names";
import { worstFirst } from "./schedule-line";

/** The parts of the farm page that the brief borrows; calls are its own. */
export type Borrowed = Exclude<PartName, "calls">;

/** Part shows a part of the farm page inside the brief: the same forms, the same words. */
export function Part({
  name,
  farm,
  changed,
  times,
}: {
  name: Borrowed;
  farm: FarmPage;
  changed: () => void;
  times: number;
}) {
  return (
    <FarmProvider value={{ farm, changed, times }}>
      {name === "milestones" &&
        worstFirst(farm.units).map(
          (unit) =>
            unit.cycle && (
              <section key={unit.id} aria-label={unit.name}>
                {farm.units.length > 1 && <h3>{unit.name}</h3>}
                <Milestones
                  cycle={unit.cycle}
                  pack={packOf(unit.enterprise)}
                  names={namesOf(unit.enterprise)}
                />
              </section>
            ),
        )}
      {name === "training" && <People />}
      {name === "build" &&
        farm.units.map((unit) => (
          <section key={unit.id} aria-label={unit.name}>
            {farm.units.length > 1 && <h3>{unit.name}</h3>}
            <BuildSheetView unit={unit} pack={packOf(unit.enterprise)} />
          </section>
        ))}
      {name === "reported" && <Timeline />}
    </FarmProvider>
  );
}
