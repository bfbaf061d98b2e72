import { formatsOf } from "../../../i18n/format";

const { plural, date } = formatsOf("en");

/** The words of the list that a veterinarian reads. */
export const review = {
  title: "Triage cards",
  lead: "What rests on our own estimate is read and signed by a veterinarian. A new version of a card wants a new signature.",
  export: "Unchecked estimates as a table",
  list: "Cards, unsigned first",
  version: (n: number) => `version ${n}`,
  estimates: (n: number) =>
    plural(n, { one: "1 estimate not yet checked", other: `${n} estimates not yet checked` }),
  none: "rests on published sources",
  signed: (who: string, what: string, on: string) => `signed by ${who} (${what}) on ${date(on)}`,
  differs: (who: string, on: string, note: string) => `${who} would change it (${date(on)}): ${note}`,
  read: "Read the estimates",
  sign: "Note a signature",
  reviewer: "Veterinarian",
  qualification: "Title and registration",
  on: "Signed on",
  agrees: "Agrees with every statement",
  note: "What would they change?",
  send: "Note it",
  done: "Noted.",
  kinds: { cause: "cause", ending: "advice" } as Record<string, string>,
};
