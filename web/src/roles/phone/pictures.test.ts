// @vitest-environment node
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect, it } from "vitest";
import { drawings, pictured } from "./signs";

it.each(["snail", "catfish"])("every sign of the %s pack has a drawing", (enterprise) => {
  const triage = readFileSync(
    resolve(import.meta.dirname, "../../../../checklists", enterprise, "triage.yaml"),
    "utf8",
  );
  const listed = triage.slice(triage.search(/^signs:/m));
  const signs = [...listed.matchAll(/^ {2}- key: ([\w-]+)/gm)].map(([, key]) => key);
  expect(signs.length).toBeGreaterThan(10);
  expect(signs.filter((key) => !pictured.includes(key as string))).toEqual([]);
});

it("every drawing is a path of its own", () => {
  for (const [name, d] of Object.entries(drawings)) expect(d, name).toMatch(/^M[\d\s.,a-zA-Z-]+$/);
  expect(new Set(Object.values(drawings)).size).toBe(Object.keys(drawings).length);
});

it.each(["snail", "catfish"])("every drawing that the %s daybook names is there", (enterprise) => {
  const text = readFileSync(`../checklists/${enterprise}/daybook.yaml`, "utf8");
  const named = [...text.matchAll(/drawing: (\S+)/g)].map((m) => m[1] as string);
  expect(named.length).toBeGreaterThan(8);
  expect(named.filter((name) => !(name in drawings))).toEqual([]);
});
