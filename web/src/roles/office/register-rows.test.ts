import { expect, it } from "vitest";
import { fits, rowChoices, rowsOf } from "./register-rows";

const problem = (row: number, severity: string, code: string) => ({
  row,
  severity,
  code,
  column: "farm",
  text: code,
});
const answer = {
  verdicts: [
    { row: 2, verdict: "new" },
    { row: 3, verdict: "refused" },
    { row: 4, verdict: "changed", changes: [{ column: "town", from: "", to: "Buea" }] },
    { row: 5, verdict: "same" },
  ],
  problems: [
    problem(3, "refused", "required"),
    problem(3, "flag", "phone"),
    problem(1, "flag", "heading"),
    problem(4, "flag", "odd"),
  ],
};

it("brings what is said of a row together, in the order of the file", () => {
  const rows = rowsOf(answer);
  expect(rows.map((r) => [r.row, r.verdict, r.problems.map((p) => p.code)])).toEqual([
    [1, "", ["heading"]],
    [2, "new", []],
    [3, "refused", ["required", "phone"]],
    [4, "changed", ["odd"]],
    [5, "same", []],
  ]);
  expect(rows[3]?.changes).toEqual([{ column: "town", from: "", to: "Buea" }]);
});

it("gives each choice its rows", () => {
  const rows = rowsOf(answer);
  const by = Object.fromEntries(
    rowChoices.map((c) => [c, rows.filter((row) => fits(row, c)).map((row) => row.row)]),
  );
  expect(by).toEqual({
    look: [1, 3, 4],
    all: [1, 2, 3, 4, 5],
    new: [2],
    changed: [4],
    same: [5],
    refused: [3],
  });
});
