import { formatsOf } from "../i18n/format";
import type { Values } from "./reason";

const { date, days, percent } = formatsOf("en");
const step = (v: Values) => v.text("milestone") || "A milestone";

/** Why a farm stands as it does, why a ticket was opened, why a visit is needed: one sentence a code. */
export const reasons = {
  "milestone-behind": (v: Values) => `${step(v)} is ${days(v.number("days"))} behind its date.`,
  "milestone-late": (v: Values) => `${step(v)} is ${days(v.number("days"))} past its latest date.`,
  "next-slipping": (v: Values) => `${step(v)} is likely ${days(v.number("days"))} after its planned day.`,
  "harvest-slip": (v: Values) => `The first harvest has slipped by ${days(v.number("days"))}.`,
  "cover-short": (v: Values) =>
    `By the readings the plant cover will be late (${percent(100 * v.number("probability"))} sure).`,
  "growth-short": (v: Values) => `By the sample weights the first harvest is ${days(v.number("days"))} late.`,
  "season-risk": (v: Values) =>
    `The chance of missing the season is ${percent(100 * v.number("probability"))}.`,
  "no-news": (v: Values) =>
    v.has("since")
      ? `Nothing heard since ${date(v.text("since"))}, ${days(v.number("days"))}.`
      : `Nothing heard for ${days(v.number("days"))}.`,
  paused: (v: Values) => (v.has("until") ? `Paused until ${date(v.text("until"))}.` : "Paused."),
  "go-ahead-short": (v: Values) => `The go-ahead for ${step(v)} is not complete.`,
  "go-ahead-skipped": (v: Values) => `${step(v)} was marked without its go-ahead.`,
  "training-gap": (v: Values) => `Training missing or out of date: ${v.text("module")}.`,
  "visit-overdue": (v: Values) => `No visit for ${days(v.number("days"))}.`,
  "snag-due": (v: Values) => `A snag is open and the defects period ends on ${date(v.text("until"))}.`,
  "ticket-stale": (v: Values) => `Ticket ${v.text("number")} is past its due time, untouched.`,
};
