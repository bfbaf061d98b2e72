/**
 * An Outline is a country with its regions, drawn in a spherical Mercator
 * projection: x = x0 + scale * longitude, y = y0 - scale * ln tan(45° + latitude / 2),
 * angles in radians.
 */
export interface Outline {
  width: number;
  height: number;
  scale: number;
  x: number;
  y: number;
  regions: readonly Region[];
}

/** A Region is one part of the country. */
export interface Region {
  code: string;
  name: { en: string; fr: string };
  path: string;
}

/** A Position on the globe in degrees. */
export interface Position {
  lat: number;
  lng: number;
}

const radians = Math.PI / 180;

/** mercator is the projection of the unit sphere (Snyder, Map Projections: A Working Manual, equations 7-1 and 7-2). */
export function mercator({ lat, lng }: Position): { x: number; y: number } {
  return { x: lng * radians, y: Math.log(Math.tan(Math.PI / 4 + (lat * radians) / 2)) };
}

/** place gives where a position lies on an outline, null when it lies off the drawing. */
export function place(outline: Outline, position: Position): { x: number; y: number } | null {
  const on = mercator(position);
  const x = outline.x + outline.scale * on.x;
  const y = outline.y - outline.scale * on.y;
  const inside = x >= 0 && y >= 0 && x <= outline.width && y <= outline.height;
  return inside ? { x, y } : null;
}
