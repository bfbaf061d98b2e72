import { beforeEach, expect, it } from "vitest";
import { Problem } from "../api/problem";
import { language } from "../i18n/language";
import { wrongIn } from "./first-run";
import { firstRunWords } from "./words";

beforeEach(async () => {
  language.value = "fr";
  await firstRunWords.load();
});

const refused = (code: string, ...paths: [path: string, code: string][]) =>
  new Problem(
    422,
    code,
    "no",
    paths.map(([path, code]) => ({ path, code, text: "in English" })),
  );

it("marks the field of the group that was refused as a whole, in the person's language", () => {
  const error = refused("firm-refused", ["name", "required"], ["time_zone", "unknown"]);
  expect(wrongIn(error, "firm", "time_zone")).toMatch(/^Ce fuseau horaire n’existe pas/);
  expect(wrongIn(error, "firm", "name")).toMatch(/^Donnez un nom/);
  expect(wrongIn(error, "branch", "name")).toBeUndefined();
  expect(wrongIn(error, "administrator", "name")).toBeUndefined();
});

it("marks a field that the server names with its group", () => {
  const error = refused("invalid", ["branch.country", "invalid"], ["administrator.email", "invalid"]);
  expect(wrongIn(error, "branch", "country")).toMatch(/^Ce pays n’existe pas/);
  expect(wrongIn(error, "administrator", "email")).toBe("Ce n’est pas une adresse e-mail.");
  expect(wrongIn(error, "firm", "name")).toBeUndefined();
});
