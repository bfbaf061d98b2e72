import { useState } from "preact/hooks";
import type { FarmPage, UnitPage } from "../../../api/types";
import { namesOf, packOf } from "../../../farm/packs";
import { BuildSheetView } from "../../../farm/page/build-sheet";
import { FarmProvider } from "../../../farm/page/context";
import { Milestones } from "../../../farm/page/milestones";
import { People } from "../../../farm/page/people";
import { Timeline } from "../../../farm/page/timeline";
import "../../../farm/notebook.css";
import "../../../farm/page/farm.css";
import { SelectField } from "../../../ui/choice";
import { deskWords } from "../words";
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
      {name === "training" && <People />}
      {name === "reported" && <Timeline />}
      {(name === "milestones" || name === "build") && <OfUnit name={name} farm={farm} />}
    </FarmProvider>
  );
}

// One unit at a time, the one that needs a word first.
function OfUnit({ name, farm }: { name: "milestones" | "build"; farm: FarmPage }) {
  const words = deskWords();
  const units = worstFirst(farm.units).filter((u) => name === "build" || u.cycle);
  const [chosen, choose] = useState("");
  const unit = units.find((u) => u.id === chosen) ?? units[0];
  if (!unit)
    return <p class="empty">{farm.units.length === 0 ? words.brief.noUnits : words.brief.noCycle}</p>;
  return (
    <>
      {units.length > 1 && (
        <SelectField
          label={words.call.unit}
          options={units.map((u) => ({ value: u.id, label: u.name }))}
          value={unit.id as ""}
          onValue={choose}
        />
      )}
      <UnitPart name={name} unit={unit} />
    </>
  );
}

function UnitPart({ name, unit }: { name: "milestones" | "build"; unit: UnitPage }) {
  const pack = packOf(unit.enterprise);
  if (name === "build") return <BuildSheetView unit={unit} pack={pack} />;
  return unit.cycle ? <Milestones cycle={unit.cycle} pack={pack} names={namesOf(unit.enterprise)} /> : null;
}
