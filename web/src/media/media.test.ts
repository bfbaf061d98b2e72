import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { Problem } from "../api/problem";
import { placeOf } from "./exif";
import { mayGo } from "./network";
import { mostBytes, smallEnough, tries, within } from "./scale";
import { goOnFrom } from "./send";
import { spend, used } from "./used";

it.each([
  [4000, 3000, 1280, 1280, 960],
  [3000, 4000, 1280, 960, 1280],
  [640, 480, 1280, 640, 480],
  [5000, 1, 1280, 1280, 1],
])("scales %i x %i to at most %i", (width, height, side, w, h) => {
  expect(within(width, height, side)).toEqual({ width: w, height: h });
});

it("packs a photo until it is small enough, the best look first", async () => {
  const tried: number[] = [];
  // What a busy picture weighs: by its pixels and its quality.
  const pack = async ({ side, quality }: { side: number; quality: number }) => {
    tried.push(side);
    return { size: side * side * 0.75 * quality * 0.3 };
  };
  const packed = await smallEnough(pack);
  expect(packed?.size).toBeLessThanOrEqual(mostBytes);
  expect(tried[0]).toBe(1280);
  expect(tried.length).toBeGreaterThan(1);
  expect(await smallEnough(async () => ({ size: mostBytes + 1 }))).toBeUndefined();
  expect(await smallEnough(async () => ({ size: mostBytes }))).toEqual({ size: mostBytes });
  expect(tries.at(-1)).toEqual({ side: 480, quality: 0.5 });
});

it.each([
  ["any", "cellular", false, "yes"],
  ["any", undefined, false, "yes"],
  ["wifi", "wifi", false, "yes"],
  ["wifi", "ethernet", false, "yes"],
  ["wifi", "cellular", true, "no"],
  ["wifi", undefined, false, "ask"],
  ["wifi", undefined, true, "yes"],
  ["wifi", "unknown", false, "ask"],
  [null, "wifi", true, "ask"],
] as const)("over %s network, on %s, said %s: %s", (chosen, network, said, may) => {
  expect(mayGo(chosen, network, said)).toBe(may);
});

it("goes on from where the server says", () => {
  const at = (text: string) =>
    new Problem(409, "media-offset", "", [{ path: "offset", code: "media-offset", text }]);
  expect(goOnFrom(at("32768"))).toBe(32768);
  expect(goOnFrom(at("soon"))).toBeUndefined();
  expect(goOnFrom(new Problem(409, "media-hash", ""))).toBe(0);
  expect(goOnFrom(new Problem(409, "media-many", ""))).toBeUndefined();
  expect(goOnFrom(new TypeError("x"))).toBeUndefined();
});

it("counts what a month has cost", () => {
  localStorage.clear();
  const march = new Date("2026-03-31T20:00:00Z");
  spend(1000, march);
  spend(500, march);
  expect(used(march)).toBe(1500);
  expect(used(new Date("2026-04-01T06:00:00Z"))).toBe(0);
  localStorage.setItem("tendfold.media-used", "{");
  expect(used(march)).toBe(0);
});

// The fixture is that of the server's own test: made by hand after Exif 2.32,
// 4 degrees 9' 12.345" north, 9 degrees 14' 33.21" east.
const fixture = new Uint8Array(readFileSync("../server/media/testdata/located.jpg"));

it("reads where a photo was taken, and nothing where it does not say so", () => {
  const place = placeOf(fixture);
  expect(place?.lat).toBeCloseTo(4 + 9 / 60 + 12.345 / 3600, 9);
  expect(place?.lng).toBeCloseTo(9 + 14 / 60 + 33.21 / 3600, 9);
  const south = fixture.slice();
  const at = south.indexOf(0x4e, 40); // "N"
  south[at] = 0x53;
  expect(placeOf(south)?.lat).toBeCloseTo(-(4 + 9 / 60 + 12.345 / 3600), 9);
  expect(placeOf(fixture.slice(0, 2))).toBeUndefined();
  expect(placeOf(new Uint8Array([0x89, 0x50, 0x4e, 0x47]))).toBeUndefined();
});

it("never fails on a file that was cut or changed", () => {
  for (let n = 0; n < 200; n++) expect(() => placeOf(fixture.slice(0, n))).not.toThrow();
  for (let n = 2; n < 200; n++) {
    const changed = fixture.slice();
    changed[n] = 0xff - (changed[n] ?? 0);
    const place = placeOf(changed);
    if (place) expect(Math.abs(place.lat)).toBeLessThanOrEqual(90);
  }
});
