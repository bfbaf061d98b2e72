// @vitest-environment node
import { describe, expect, it } from "vitest";
import { cameroon } from "./cameroon.gen";
import { mercator, place } from "./outline";
import { moved, whole, zoomed } from "./view";

it("projects as Snyder's numerical example", () => {
  // Map Projections: A Working Manual (USGS PP 1395, 1987), p. 266: 35° N, 75° W, central meridian 180° W.
  const { x, y } = mercator({ lat: 35, lng: -75 + 180 });
  expect(x).toBeCloseTo(1.8325957, 7);
  expect(y).toBeCloseTo(0.6528366, 7);
});

// Worked out with geoMercator of d3-geo 3.1.2 at the outline's scale and shift.
it.each([
  ["Buea", 4.155, 9.241, 35.510289, 393.812835],
  ["Douala", 4.0483, 9.7085, 55.674569, 398.426854],
  ["Bamenda", 5.9631, 10.1591, 75.109915, 315.517297],
  ["Kousseri", 12.0784, 15.0306, 285.228179, 48.314794],
])("puts %s where d3-geo does", (_, lat, lng, x, y) => {
  const at = place(cameroon, { lat, lng });
  expect(at?.x).toBeCloseTo(x, 2);
  expect(at?.y).toBeCloseTo(y, 2);
});

it("leaves out what lies off the drawing", () => {
  expect(place(cameroon, { lat: 48.9, lng: 2.3 })).toBeNull();
});

/** Corners of a path of relative steps. */
function corners(path: string): [number, number][][] {
  return path
    .split("z")
    .filter(Boolean)
    .map((ring) => {
      const numbers = (ring.match(/-?[\d.]+/g) ?? []).map(Number);
      const points: [number, number][] = [];
      let [x, y] = [0, 0];
      for (let i = 0; i + 1 < numbers.length; i += 2) {
        x += numbers[i] as number;
        y += numbers[i + 1] as number;
        points.push([x, y]);
      }
      return points;
    });
}

function inside(path: string, x: number, y: number): boolean {
  return corners(path).some((ring) => {
    let odd = false;
    ring.forEach(([ax, ay], i) => {
      const [bx, by] = ring[(i + 1) % ring.length] as [number, number];
      if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) odd = !odd;
    });
    return odd;
  });
}

// Capitals of the regions with their positions as Natural Earth's populated places have them, from memory.
it.each([
  ["SW", 4.155, 9.241],
  ["LT", 4.061, 9.786],
  ["NW", 5.959, 10.145],
  ["OU", 5.49, 10.411],
  ["CE", 3.866, 11.515],
  ["SU", 2.914, 11.15],
  ["ES", 4.58, 13.683],
  ["AD", 7.327, 13.584],
  ["NO", 9.301, 13.397],
  ["EN", 10.591, 14.326],
])("has the capital of %s inside its region and no other", (code, lat, lng) => {
  const at = place(cameroon, { lat, lng });
  const found = cameroon.regions.filter((r) => at && inside(r.path, at.x, at.y)).map((r) => r.code);
  expect(found).toEqual([code]);
});

describe("the view", () => {
  const outline = { ...cameroon, width: 100, height: 200 };
  it("comes nearer around its middle and no nearer than eight times", () => {
    expect(zoomed(whole(outline), outline, 0.5)).toEqual({ x: 25, y: 50, width: 50, height: 100 });
    expect(zoomed(whole(outline), outline, 0.01).width).toBe(12.5);
    expect(zoomed({ x: 0, y: 0, width: 50, height: 100 }, outline, 4)).toEqual(whole(outline));
  });
  it("moves by arrow keys and stops at the edge", () => {
    const near = { x: 25, y: 50, width: 50, height: 100 };
    expect(moved(near, outline, "ArrowRight")).toMatchObject({ x: 37.5, y: 50 });
    expect(moved(whole(outline), outline, "ArrowLeft")).toBeNull();
    expect(moved(near, outline, "a")).toBeNull();
  });
});
