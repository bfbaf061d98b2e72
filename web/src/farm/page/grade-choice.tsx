import { Choice } from "../../ui/choice";
import { farmWords } from "../words";
import { pageWords } from "./words";

/** The grades of evidence that a person may give here; photos are not sent from this page, and the register's grade belongs to intake. */
export type GivenGrade = "staff-saw" | "word";

const grades: readonly GivenGrade[] = ["staff-saw", "word"];

/** GradeChoice asks how well a thing is known. */
export function GradeChoice({
  value,
  onValue,
  error,
}: {
  value: GivenGrade;
  onValue: (grade: GivenGrade) => void;
  error?: string | undefined;
}) {
  const words = pageWords().form;
  return (
    <Choice
      label={words.grade}
      value={value}
      onValue={onValue}
      error={error}
      options={grades.map((grade) => ({
        value: grade,
        label: farmWords().grade[grade],
        hint: words.gradeHints[grade] ?? "",
      }))}
    />
  );
}
