import { formatsOf } from "../../i18n/format";

const { date, number, plural } = formatsOf("en");

/** The words of the daybook on paper. */
const en = {
  title: (unit: string) => `Daybook on paper: ${unit}`,
  print: {
    title: "Print a page",
    help: "One A4 sheet for two weeks: every field of this unit, whom to call, a place to sign.",
    from: "First day",
    page: { en: "Print in English", fr: "Print in French" } as Record<string, string>,
    file: (unit: string, from: string) => `daybook ${unit} ${from}.pdf`,
  },
  entry: {
    title: "Type a page in",
    help: "A column a day, as on the page. What is empty there stays empty here: empty is not zero. For an answer with a number, type the number.",
    keys: "Enter or ↓ goes down, Tab goes to the next day, Ctrl+Enter saves.",
    from: "First day on the page",
    writtenBy: "Who wrote the page?",
    choose: "Choose",
    nobody:
      "Nobody is entered as working on this farm. Enter who does first: a page is kept under the name of the person who wrote it.",
    grid: (from: string, to: string) => `Daybook, ${date(from)} to ${date(to)}`,
    what: "What",
    well: "All well, nothing died",
    note: "Note",
    state: "Saved?",
    states: {
      kept: "saved",
      changed: "not saved",
      refused: "look again",
      before: "on record",
      ahead: "to come",
    },
    cell: (line: string, on: string) => `${line}, ${date(on)}`,
    answers: (choices: readonly string[]) => choices.map((c, i) => `${i + 1} ${c}`).join(" · "),
    whole: (days: string) =>
      `For these days the whole farm has an entry of its own too. It stays as it is: ${days}.`,
    save: "Save the page",
    saving: (n: number) => plural(n, { one: "Save 1 day", other: `Save ${n} days` }),
    saved: (n: number) => plural(n, { one: "1 day saved.", other: `${n} days saved.` }),
    nothing: "Nothing has changed yet.",
    look: "Look at these again",
    sure: "It is right",
    sureOf: (what: string) => `It is right: ${what}`,
    allSure: "All of these are right",
    drafted: "What you had typed is still here. It is not saved yet.",
  },
  wrong: {
    "not-a-number": (typed: string) => `“${typed}” is not a number.`,
    "no-answer": (typed: string) => `“${typed}” is not the number of an answer.`,
    "no-day": (typed: string) => `“${typed}” is not a day. Write it as 12/3.`,
    "not-both": "All well means that nothing died. One of the two is wrong.",
    whole: "A count is a whole number.",
    low: (limit: number) => `This cannot be below ${number(limit, 2)}.`,
    high: (limit: number) => `This cannot be above ${number(limit, 2)}.`,
    stock: (limit: number) => `This cannot be: by the register at most ${number(limit)}.`,
    unlikely: (typed: string) => `${typed}: is that right?`,
  },
  /** By the code of a problem, of a day or of a field. */
  problems: {
    "farm-closed": "This farm is closed in the register. Open it again first.",
    "unit-not-found": "This unit is not in your branches, or no longer in the register.",
    "caretaker-not-found": "This person does not work on the farm any more. Choose another.",
    "day-far": "This day is too far away. Check the year.",
    impossible: "This cannot be. Check the number.",
    unlikely: "Is that right?",
    future: "This day is after today.",
    far: "This day is too far away. Check the year.",
    unknown: "The daybook does not have this. Read the page again.",
    "too-long": "This text is too long.",
    later: "This day did not get through. Save again.",
  } as Record<string, string>,
};

export type SheetMessages = typeof en;
export default en;
