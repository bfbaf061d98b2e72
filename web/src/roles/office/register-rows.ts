import type { RegisterAnswer } from "./types";

type Problem = RegisterAnswer["problems"][number];
type Change = NonNullable<RegisterAnswer["verdicts"][number]["changes"]>[number];

/** A RegisterRow is one row of the file with all that is said of it. */
export interface RegisterRow {
  /** As the spreadsheet counts, the headings being row 1. */
  row: number;
  /** new, changed, same or refused; "" for a row that holds no farm, such as the headings. */
  verdict: string;
  problems: readonly Problem[];
  changes: readonly Change[];
}

/** The rows that can be asked for: all, those with a problem, or those of one verdict. */
export const rowChoices = ["look", "all", "new", "changed", "same", "refused"] as const;

/** RowChoice is one of them. */
export type RowChoice = (typeof rowChoices)[number];

/** rowsOf brings verdicts, changes and problems together by row, in the order of the file. */
export function rowsOf(answer: Pick<RegisterAnswer, "verdicts" | "problems">): RegisterRow[] {
  const problems = new Map<number, Problem[]>();
  for (const problem of answer.problems) {
    problems.set(problem.row, [...(problems.get(problem.row) ?? []), problem]);
  }
  const rows = answer.verdicts.map(({ row, verdict, changes }) => ({
    row,
    verdict,
    problems: problems.get(row) ?? [],
    changes: changes ?? [],
  }));
  const judged = new Set(rows.map((r) => r.row));
  const others = [...problems].filter(([row]) => !judged.has(row));
  return [
    ...rows,
    ...others.map(([row, found]) => ({ row, verdict: "", problems: found, changes: [] })),
  ].sort((a, b) => a.row - b.row);
}

/** fits says whether a row belongs to a choice. */
export function fits({ verdict, problems }: RegisterRow, choice: RowChoice): boolean {
  if (choice === "all") return true;
  return choice === "look" ? problems.length > 0 : verdict === choice;
}
