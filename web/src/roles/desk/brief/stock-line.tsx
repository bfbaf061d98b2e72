import type { FarmPage, UnitPage } from "../../../api/types";
import { packOf } from "../../../farm/packs";
import { formats } from "../../../i18n/format";
import { deskWords } from "../words";
import { Dotted, Line } from "./line";
import { mostUnits, worstFirst } from "./schedule-line";

/** StockLine is what lives there and since when. */
export function StockLine({ farm }: { farm: FarmPage }) {
  const words = deskWords().brief;
  return (
    <Line name={words.lines.stock}>
      {worstFirst(farm.units)
        .slice(0, mostUnits + 1)
        .map((unit) => (
          <p class="unit-line" key={unit.id}>
            <b>{unit.name}</b>
            <UnitStock unit={unit} />
          </p>
        ))}
      {farm.units.length === 0 && words.nothingYet}
    </Line>
  );
}

function UnitStock({ unit }: { unit: UnitPage }) {
  const words = deskWords().brief;
  const { measure } = formats();
  const pack = packOf(unit.enterprise);
  const latest = [...unit.batches].sort((a, b) => b.stocked_on.localeCompare(a.stocked_on))[0];
  if (!latest) {
    const ahead = unit.cycle?.outlook?.milestones.find((m) => m.key === pack?.stocking);
    return (
      <span>{[words.nothingYet, ahead?.p50 && words.stocking(ahead.p50)].filter(Boolean).join("; ")}</span>
    );
  }
  const species = pack?.species.find((s) => s.key === latest.species)?.latin ?? latest.species;
  return (
    <Dotted
      parts={[
        words.lives(latest.count, species, latest.stocked_on),
        latest.mean_weight_g > 0 && measure(latest.mean_weight_g, "g", 1),
      ]}
    />
  );
}
