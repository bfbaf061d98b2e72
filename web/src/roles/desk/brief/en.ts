import { formatsOf } from "../../../i18n/format";

const { date, days, number, plural } = formatsOf("en");

/** The words of the farm brief: six lines that are always there, the rest by key. */
export const brief = {
  lines: {
    caller: "Who",
    schedule: "Schedule",
    stock: "Stock",
    tickets: "Tickets",
    talk: "Said",
    caretaker: "Caretaker",
  },
  branch: (name: string) => `${name} branch`,
  notWatched: "not watched yet",
  contract: { active: "", paused: "contract paused", closed: "contract closed" } as Record<string, string>,
  unknownCaller: "someone we do not know; say in the note who it is",
  caretakerSince: (since: string) => (since ? `caretaker since ${date(since)}` : "caretaker"),
  inChargeSince: (since: string) =>
    since ? `caretaker, in charge since ${date(since)}` : "caretaker, in charge of the animals",
  isClient: "the client",
  speaks: { en: "speaks English", fr: "speaks French" } as Record<string, string>,

  notSwept: "being worked out, look again in a minute",
  noCycle: "no cycle runs",
  holdUp: (name: string) => `held up by: ${name}`,
  harvest: (p50: string, p90: string) =>
    `first harvest most likely ${date(p50)}, 9 times in 10 before ${date(p90)}`,
  andUnits: (n: number) => plural(n, { one: "and 1 more unit", other: `and ${n} more units` }),
  noUnits: "no unit in the register",

  lives: (n: number, species: string, on: string) => `${number(n)} ${species} since ${date(on)}`,
  nothingYet: "nothing lives there yet",
  stocking: (on: string) => `stocking most likely ${date(on)}`,

  noTickets: "none open",
  andTickets: (n: number) => plural(n, { one: "and 1 more", other: `and ${n} more` }),

  noAdvice: "no advice on record",
  advice: (on: string, who: string) => `${date(on)}${who ? `, ${who}` : ""}`,
  promise: (on: string) => `promised for ${date(on)}`,
  late: (n: number) => `${days(n)} late`,
  noPromise: "no promise open",

  noCaretaker: "no caretaker in the register",
  nobodyInCharge: "nobody is in charge of the animals",
  passed: (n: number, all: number) => `${n} of ${all} modules passed`,
  lacks: (names: string) => `lacks ${names}`,
  lapsed: (name: string, on: string) => `${name} lapsed ${date(on)}`,

  more: "More of this farm",
  parts: {
    milestones: "Milestones",
    training: "Training",
    build: "Build",
    calls: "Calls",
    reported: "Reported",
  },
  closePart: "Close this part",
  farmPage: "Farm page",
  noCalls: "No call is on record.",
};
