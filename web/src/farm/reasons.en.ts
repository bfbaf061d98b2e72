import { formatsOf } from "../i18n/format";
import type { Values } from "./reason";

const { date, days, number, percent, plural } = formatsOf("en");
const step = (v: Values) => v.name("milestone", "milestone") || "A milestone";
const goAhead = (v: Values) => v.known("go-ahead", "go_ahead") ?? `The go-ahead for ${step(v)}`;
const who = (v: Values) => v.name("person", "person_id") || "A caretaker in charge";
const late = (n: number) => (n < 0 ? `${days(-n)} early` : `${days(n)} late`);
const holdUp = (v: Values) => {
  const what = v.name("milestone", "hold_up");
  return what ? ` What holds it up: ${what}.` : "";
};
// The days are of one milestone, or of the first harvest and what holds it up.
const lateBy = (v: Values) => {
  const past = v.name("milestone", "milestone");
  return past
    ? `${past} is ${days(v.number("late_days"))} past its target.`
    : `the first harvest ${days(v.number("late_days"))} late.${holdUp(v)}`;
};
const about = (v: Values) => {
  const rule = new Map<string, string>(Object.entries(rules)).get(v.text("rule"));
  return rule ? ` (${rule.toLowerCase()})` : "";
};
const count = (n: number, one: string, other: string) => `${number(n)} ${plural(n, { one, other })}`;
const quiet = (v: Values) => ({
  since: date(v.text("last") || v.text("since")),
  days: days(v.number("quiet_days") || v.number("days")),
  allowed: days(v.number("allowed_days") || v.number("limit_days")),
});

/** Why a farm stands as it does, why a ticket was opened, why a visit is needed: one sentence a code. */
export const reasons = {
  // Standing of a cycle.
  complete: () => "Every milestone of the cycle is done.",
  paused: (v: Values) =>
    v.has("until")
      ? `Paused since ${date(v.text("since"))}, until ${date(v.text("until"))}.`
      : `Paused since ${date(v.text("since"))}, with no end date.`,
  "milestone-past-latest": (v: Values) =>
    `${step(v)} is not done; its latest date was ${date(v.text("latest"))}, ${days(v.number("days"))} ago.`,
  slip: (v: Values) => `The first harvest is likely ${late(v.number("days"))}.`,
  "next-past-target": (v: Values) =>
    `${step(v)} is most likely on ${date(v.text("expected"))}, ${days(v.number("days"))} after its target.`,
  "on-course": (v: Values) =>
    v.number("days") === 0
      ? "The first harvest is on its planned day."
      : `The first harvest is likely ${late(v.number("days"))}.`,
  "slip-by-pause": (v: Values) => `Pauses cost ${days(v.number("days"))}.`,

  // Rules of the sweep.
  "milestone-behind": (v: Values) =>
    `${step(v)} is ${days(v.number("late_days"))} past its day (${date(v.text("target"))}).`,
  "cover-short": (v: Values) =>
    `By the readings the plant cover will be a week late or more (${percent(v.number("chance_percent"))} sure).`,
  "growth-short": (v: Values) =>
    `By the sample weights the first harvest is ${days(v.number("late_days"))} late, most likely on ${date(v.text("harvest"))}.`,
  "pace-short": (v: Values) =>
    `By the last sample weights the animals grow at about ${percent(v.number("pace_percent"))} of their own pace before.`,
  "harvest-slip": (v: Values) =>
    `The first harvest has slipped by ${days(v.number("late_days"))}, to ${date(v.text("harvest"))}.${holdUp(v)}`,
  "season-risk": (v: Values) => `The chance of missing the season is ${percent(v.number("chance_percent"))}.`,
  "no-news": (v: Values) => {
    const q = quiet(v);
    return `Nothing heard since ${q.since}, for ${q.days}; at this stage ${q.allowed} are the most.`;
  },
  "go-ahead-short": (v: Values) =>
    `${goAhead(v)} lacks ${count(v.number("missing"), "thing", "things")}; the window opens on ${date(v.text("opens"))}.`,
  "go-ahead-skipped": (v: Values) =>
    `${step(v)} was marked without its go-ahead; ${count(v.number("missing"), "thing is", "things are")} still missing.`,
  "item-missing": (v: Values) => `Not verified yet: ${v.name("item", "item") || "a checklist item"}.`,
  "module-missing": (v: Values) => `Training missing: ${v.name("module", "module") || "a module"}.`,
  "module-lapsed": (v: Values) =>
    `Training out of date since ${date(v.text("until"))}: ${v.name("module", "module") || "a module"}.`,
  "reading-missing": (v: Values) =>
    `Reading missing or too low: ${v.name("reading", "reading") || "a reading"}.`,
  "nobody-in-charge": () => "No caretaker is in charge of the animals.",
  "new-caretaker": (v: Values) =>
    `${who(v)} began on ${date(v.text("since"))}, ${days(v.number("days"))} ago, and is not trained yet.`,
  "nobody-trained": (v: Values) =>
    `Animals live there and nobody is trained: ${count(v.number("people"), "person", "people")}, ${count(v.number("modules"), "module", "modules")} to pass.`,
  "visit-overdue": (v: Values) =>
    `Last visit on ${date(v.text("last"))}, ${days(v.number("days"))} ago; every ${days(v.number("every_days"))} is due.`,
  "snag-due": (v: Values) =>
    `${count(v.number("snags"), "snag is", "snags are")} open and the defects period ends on ${date(v.text("until"))}, in ${days(v.number("left_days"))}.`,
  "ticket-stale": (v: Values) => `Ticket ${v.text("number") || "here"} is past its due time, untouched.`,

  sign: (v: Values) => `Seen on the farm: ${v.name("sign", "sign") || "a sign of trouble"}.`,

  // Need of a visit.
  behind: (v: Values) => `Behind: ${lateBy(v)}`,
  slipping: (v: Values) => `Slipping: ${lateBy(v)}`,
  late: (v: Values) => `On course, yet ${lateBy(v)}`,
  "go-ahead-needs-person": (v: Values) =>
    `${goAhead(v)} needs a person there: ${count(v.number("items"), "item", "items")}, window from ${date(v.text("opens"))}.`,
  "visit-due": (v: Values) =>
    `Last visit on ${date(v.text("last"))}, ${days(v.number("days"))} ago; every ${days(v.number("every_days"))} is due.`,
  "twice-the-interval": (v: Values) =>
    `Last visit on ${date(v.text("last"))}, ${days(v.number("days"))} ago: twice the interval of ${days(v.number("every_days"))}.`,
  "snags-ending": (v: Values) =>
    `${count(v.number("snags"), "snag", "snags")} to mend before the defects period ends on ${date(v.text("until"))}, in ${days(v.number("left_days"))}.`,
  "caretaker-untrained": (v: Values) => `${who(v)} lacks ${count(v.number("modules"), "module", "modules")}.`,
  "caretaker-new": (v: Values) =>
    `${who(v)} is new, ${days(v.number("days"))} here, and has met nobody of the firm.`,
  "visit-promised": (v: Values) =>
    `A visit was promised for ${date(v.text("due"))}${v.has("text") ? `: ${v.text("text")}` : ""}.`,
  "promise-broken": (v: Values) =>
    `A visit promised for ${date(v.text("due"))} is ${days(v.number("late_days"))} late${v.has("text") ? `: ${v.text("text")}` : ""}.`,
  "owner-asked": (v: Values) =>
    `The owner asked for a visit on ${date(v.text("on"))}${v.has("text") ? `: ${v.text("text")}` : ""}.`,
  "ticket-open": (v: Values) => `Ticket ${v.text("number") || "here"} is open${about(v)}.`,
  "person-in-danger": (v: Values) =>
    `A person is in danger: ticket ${v.text("number") || "here"}${about(v)}.`,
  "animals-at-risk": (v: Values) => `Animals are at risk: ticket ${v.text("number") || "here"}${about(v)}.`,
};

/** The rules of the sweep by name, for lists of their shares. */
export const rules = {
  "milestone-behind": "Milestone behind",
  "cover-short": "Plant cover late",
  "growth-short": "Growth slow",
  "harvest-slip": "Harvest slipping",
  "season-risk": "Season at risk",
  "no-news": "No news",
  "go-ahead-short": "Go-ahead not complete",
  "go-ahead-skipped": "Go-ahead skipped",
  "training-gap": "Training missing",
  "new-caretaker": "New caretaker",
  "nobody-trained": "Nobody trained",
  "visit-overdue": "Visit overdue",
  "snag-due": "Snag due",
  "ticket-stale": "Ticket untouched",
};

/** What to do there: the agenda of a visit. */
export const agenda = {
  "see-to-danger": "See to the danger first: people, then animals",
  "look-at-hold-up": "Look at what holds the schedule up, mark what is done",
  "verify-go-ahead": "Verify the items that a person must see",
  "walk-round": "Walk round: counts, weights, plant cover",
  "mend-snags": "Mend the snags, or agree on a day",
  "train-caretaker": "Teach and check the modules that are missing",
  "meet-caretaker": "Meet the new caretaker",
  "find-who-is-in-charge": "Agree on a caretaker in charge",
  "ask-about-silence": "Ask about the silence: phone, airtime, who writes the daybook",
  "keep-promise": "Keep what was promised on the call",
  "answer-owner": "Answer what the owner asked",
  "work-on-ticket": "Work on the ticket",
};

/** The causes that the points of a visit need are summed over. */
export const causes = {
  schedule: "schedule",
  "go-ahead": "go-ahead",
  interval: "days since the last visit",
  snags: "snags",
  people: "people",
  silence: "silence",
  promise: "promises",
  request: "requests",
  tickets: "tickets",
};
