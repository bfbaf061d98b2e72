import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Standing } from "../farm/words";
import { language } from "../i18n/language";
import { Peg } from "../marks/marks";
import { Button } from "../ui/button";
import { type Outline, type Position, place } from "./outline";
import "./map.css";
import { farmWords } from "../farm/words";
import { around, moved, type View, zoomed } from "./view";

/** A Point is a farm on the map. */
export interface Point {
  id: string;
  name: string;
  position: Position;
  standing: Standing;
  href: string;
}

/**
 * MapView shows points on a country's outline, each with the mark of its
 * standing and a link. A list of the same must stand beside it: not every farm
 * has a position, and not everybody sees.
 */
export function MapView({
  outline,
  points,
  label,
  chosen,
}: {
  outline: Outline;
  points: readonly Point[];
  label: string;
  /** The point that is named on the map, such as the one under the list's cursor. */
  chosen?: string | undefined;
}) {
  const placed = points.flatMap((point) => {
    const at = place(outline, point.position);
    return at ? [{ ...point, ...at }] : [];
  });
  const [view, setView] = useState<View>(() => around(outline, placed));
  const scale = view.width / outline.width;
  return (
    <figure class="map">
      {/* biome-ignore lint/a11y/useSemanticElements: a group of links inside an SVG has no other element */}
      <svg
        viewBox={`${view.x} ${view.y} ${view.width} ${view.height}`}
        role="group"
        aria-label={label}
        onKeyDown={(event) => {
          const next = moved(view, outline, event.key);
          if (next) {
            event.preventDefault();
            setView(next);
          }
        }}
      >
        {outline.regions.map((region) => (
          <path key={region.code} class="map-region" d={region.path} stroke-width={scale}>
            <title>{region.name[language.value]}</title>
          </path>
        ))}
        {namedLast(placed, chosen).map((point) => (
          <MapPoint key={point.id} point={point} size={20 * scale} named={point.id === chosen} />
        ))}
      </svg>
      <MapButtons>
        <Zoom by={0.5} sign="+" view={view} outline={outline} setView={setView} />
        <Zoom by={2} sign="−" view={view} outline={outline} setView={setView} />
      </MapButtons>
    </figure>
  );
}

// What is drawn last lies on top: a name must not be crossed by other marks.
function namedLast<P extends Point>(points: readonly P[], chosen: string | undefined): P[] {
  return [...points].sort((a, b) => Number(a.id === chosen) - Number(b.id === chosen));
}

function MapPoint({
  point,
  size,
  named,
}: {
  point: Point & { x: number; y: number };
  size: number;
  named: boolean;
}) {
  const word = farmWords().standing[point.standing];
  return (
    <a href={point.href} class="map-point" aria-label={`${point.name}, ${word}`}>
      <svg x={point.x - size / 2} y={point.y - size} width={size} height={size} viewBox="0 0 24 24">
        <title>{`${point.name}, ${word}`}</title>
        <circle class="map-ground" cx="12" cy="12.5" r="11" />
        <Peg standing={point.standing} />
      </svg>
      {named && (
        <text x={point.x + size / 2} y={point.y - size / 4} font-size={0.65 * size}>
          {point.name}
        </text>
      )}
    </a>
  );
}

function MapButtons({ children }: { children: ComponentChildren }) {
  return <div class="map-buttons no-print">{children}</div>;
}

function Zoom({
  by,
  sign,
  view,
  outline,
  setView,
}: {
  by: number;
  sign: string;
  view: View;
  outline: Outline;
  setView: (view: View) => void;
}) {
  const words = farmWords().map;
  return (
    <Button onClick={() => setView(zoomed(view, outline, by))}>
      <span aria-hidden="true">{sign}</span>
      <span class="unseen">{by < 1 ? words.nearer : words.farther}</span>
    </Button>
  );
}
