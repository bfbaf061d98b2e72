// @vitest-environment node
import { expect, it } from "vitest";
import { parseNumber } from "./number";

it.each([
  ["12", 12, 12],
  ["12.5", 12.5, 12.5],
  ["12,5", 12.5, 12.5],
  ["1 234,5", 1234.5, 1234.5],
  ["1\u202f234,5", 1234.5, 1234.5],
  ["1,234", 1234, 1.234],
  ["1,234.5", 1234.5, null],
  ["-3", -3, -3],
  [".5", 0.5, 0.5],
  ["", null, null],
  ["1.2.3", null, null],
  ["12 kg", null, null],
  ["1e9", null, null],
  ["Infinity", null, null],
])("reads %j", (text, en, fr) => {
  expect(parseNumber(text, "en")).toBe(en);
  expect(parseNumber(text, "fr")).toBe(fr);
});
