import { formatsOf } from "../../i18n/format";

const { date, plural } = formatsOf("en");

/** The words of visits. */
const en = {
  states: { planned: "planned", done: "done", missed: "missed" },
  goes: (who: string, on: string) => `${who} goes on ${date(on)}`,
  went: (who: string, on: string) => `${who} went on ${date(on)}`,
  missed: (who: string, on: string) => `${who} was to go on ${date(on)}`,
  agenda: "What to do there",
  why: "Why",
  findings: "What was found",
  whyMissed: "Why nobody went",
  dealt: (n: number) => plural(n, { one: "dealt with 1 reason", other: `dealt with ${n} reasons` }),
  noReason: "No reason was on record when it was planned.",
  plan: "Plan a visit",
  planOf: (farm: string) => `Plan a visit: ${farm}`,
  change: "Change",
  changeOf: (farm: string, on: string) => `Change the visit: ${farm}, ${date(on)}`,
  finish: "Done",
  finishOf: (farm: string, on: string) => `Mark as done: ${farm}, ${date(on)}`,
  miss: "Missed",
  missOf: (farm: string, on: string) => `Mark as missed: ${farm}, ${date(on)}`,
  form: {
    officer: "Who goes?",
    nobody: "Choose a person",
    day: "Which day?",
    stops: (who: string, on: string) => `${who} on ${date(on)}:`,
    noStops: (who: string, on: string) => `${who} has no other visit on ${date(on)}.`,
    planned: "Planned.",
    changed: "Changed.",
    changeTitle: (farm: string) => `Change the visit to ${farm}`,
    finishTitle: (farm: string) => `The visit to ${farm}`,
    doneOn: "On which day was it?",
    found: "What was found?",
    foundHint: "Counts, weights, what is built, what was agreed.",
    dealt: "What was dealt with?",
    dealtHint: "What is ticked takes its points away until it grows.",
    save: "Visit done",
    done: "The visit is on record.",
    missTitle: (farm: string) => `Nobody went to ${farm}`,
    why: "Why not?",
    missSave: "Visit missed",
    missDone: "Noted. The farm stays on the list.",
  },
  problems: {
    "visit-planned":
      "Somebody goes to this farm on that day already. Change that visit, or choose another day.",
    "visit-over": "This visit is over already. Read the page again.",
    "visit-refused": "This cannot be kept as it is. See the marked fields.",
    "visit-officer": "This person does not work for the farm’s branch. Choose another.",
    "farm-closed": "This farm is closed in the register. Open it again before planning a visit.",
    range: "Choose a day that can be.",
    required: "Fill this in.",
    unknown: "Choose one of the list.",
    "other-branch": "Choose someone of the farm’s branch.",
    invalid: "Fill this in.",
  } as Record<string, string>,
};

export type VisitMessages = typeof en;
export default en;
