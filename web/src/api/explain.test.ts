import { beforeEach, expect, it } from "vitest";
import { language } from "../i18n/language";
import { explain, explainField } from "./explain";
import { Problem } from "./problem";

beforeEach(() => {
  language.value = "fr";
});

it("says a known code in the language spoken", () => {
  expect(explain(new Problem(412, "stale", "In English."))).toMatch(/^Quelqu’un a changé/);
});

it("lets an area's own text come first", () => {
  expect(explain(new Problem(412, "stale", "In English."), { stale: "Ici." })).toBe("Ici.");
});

it("falls back to the server's words, never to silence", () => {
  expect(explain(new Problem(409, "unheard-of", "In English."))).toBe("In English.");
  expect(explain(new Problem(503, "status-503", ""))).toMatch(/occupé/);
  expect(explain(new Problem(418, "teapot", ""))).toBe("teapot");
  expect(explain(new TypeError("our own mistake"))).toMatch(/mal tourné/);
});

it("finds the text for one field", () => {
  const problem = new Problem(422, "invalid", "", [
    { path: "units.0.length", code: "range", text: "Too long." },
  ]);
  expect(explainField(problem, "units.0.length")).toBe("Too long.");
  expect(explainField(problem, "units.0.length", { range: "Trop long." })).toBe("Trop long.");
  expect(explainField(problem, "name")).toBeUndefined();
});
