import type { VisitNeed } from "../../api/types";
import { placeOf } from "../../farm/visits/visit";
import type { Standing } from "../../farm/words";
import { cameroon } from "../../map/cameroon.gen";
import { MapView } from "../../map/map";
import { place } from "../../map/outline";
import { rowId } from "./need";
import { managerWords } from "./words";

/** NeedMap shows the farms of the list where their position is known, and by town or landmark where it is not. */
export function NeedMap({ needs, chosen }: { needs: readonly VisitNeed[]; chosen: string | undefined }) {
  const words = managerWords().needs;
  const here = needs.filter((n) => n.position.known && place(cameroon, n.position) !== null);
  const off = needs.filter((n) => !here.includes(n));
  return (
    <aside class="need-map no-print" aria-label={words.map}>
      <MapView
        outline={cameroon}
        label={words.map}
        chosen={chosen}
        points={here.map((n) => ({
          id: n.farm_id,
          name: n.farm,
          position: n.position,
          standing: n.standing as Standing,
          href: `#${rowId(n.farm_id)}`,
        }))}
      />
      <p class="minor">{words.mapHint}</p>
      {off.length > 0 && (
        <>
          <h3>{words.offMap}</h3>
          <p class="minor">{words.offMapHint}</p>
          <ul class="off-map">
            {off.map((n) => (
              <li key={n.farm_id}>
                <a href={`#${rowId(n.farm_id)}`}>{n.farm}</a>
                {placeOf(n) && `, ${placeOf(n)}`}
              </li>
            ))}
          </ul>
        </>
      )}
    </aside>
  );
}
