import { formatsOf } from "../../i18n/format";

const { date, days, number, percent, plural } = formatsOf("en");
const count = (n: number, one: string, other: string) => plural(n, { one, other });
const farms = (n: number) => count(n, "1 farm", `${number(n)} farms`);

// How long a wait was, as people say it.
const lasting = (minutes: number) => {
  if (minutes < 90) return `${number(minutes)} min`;
  if (minutes < 48 * 60) return `${number(Math.round(minutes / 60))} hours`;
  return days(Math.round(minutes / 1440));
};

/** The words of the manager's pages. */
const en = {
  nav: {
    needs: "Visits needed",
    visits: "Visits planned",
    farms: "Farms by standing",
    confirm: "Farms to confirm",
    load: "Load",
    training: "Training",
    cards: "Triage cards",
  },
  toRegister: "Read a spreadsheet of farms",
  filter: {
    label: "Choose farms",
    branch: "Branch",
    allBranches: "all branches",
    standing: "Standing",
    allStandings: "all standings",
    enterprise: "Enterprise",
    allEnterprises: "all enterprises",
    watched: "Watched",
    watchedAll: "watched or not",
    watchedYes: "watched",
    watchedNo: "not watched",
    search: "Search",
    searchHint: "Name, client, town, landmark or phone",
    none: "No farm fits these filters.",
    clear: "Show all farms",
  },
  needs: {
    title: "Which farms need a visit",
    summary: (looked: number, need: number, must: number) =>
      `${farms(looked)} looked at; ${count(need, "1 needs a visit", `${number(need)} need a visit`)}, ${
        must === 0
          ? "none of them must be gone to"
          : count(must, "1 must be gone to", `${number(must)} must be gone to`)
      }.`,
    noFarms: "No farm is watched yet. Read your spreadsheet, then start watching the farms.",
    none: "No farm needs a visit today.",
    mustGo: "Must be gone to",
    mustGoHint: "Whatever the points: a danger, or twice the interval since the last visit.",
    byPoints: "By points",
    points: (n: number) => count(n, `${number(n, 1)} point`, `${number(n, 1)} points`),
    mustGoWord: "must go",
    lastVisit: (on: string, ago: string) => `Last visit, else handover or intake: ${date(on)}, ${ago}`,
    every: (n: number) => `every ${days(n)} is due`,
    noVisit: "No visit is on record yet",
    more: (shown: number, total: number) => `Show more than ${number(shown)} of ${number(total)}`,
    planned: (who: string, on: string) => `${who} goes on ${date(on)}`,
    someone: "Someone",
    agenda: "What to do there",
    why: "Why not higher",
    whyOf: (farm: string) => `Why not higher: ${farm}`,
    uncounted: "Counted under a higher reason of the same cause:",
    next: "Would come next if nothing happened:",
    nextIn: (n: number, points: string) => `in ${days(n)}, ${points}:`,
    nothing: "Nothing else speaks for a visit, and nothing would in the next 30 days.",
    strips: "Schedules",
    keys: { next: "Next farm", previous: "Farm before", plan: "Plan a visit to the farm" },
    map: "Map of the farms that need a visit",
    mapHint: "Choose a mark to go to its farm in the list.",
    offMap: "Not on the map",
    offMapHint: "No position is known; the town or landmark says where.",
  },
  visits: {
    title: "Visits planned",
    late: "Not reported yet",
    lateHint: "Their day is over. Say what was found, or that nobody went.",
    ahead: "The next four weeks",
    over: "The last four weeks",
    showOver: "Show the last four weeks",
    none: "No visit is planned for the next four weeks. Plan one from the list of farms that need a visit.",
    noneOver: "No visit is on record for the last four weeks.",
    stops: (n: number) => count(n, "1 stop", `${number(n)} stops`),
    officer: "Person",
    everyone: "everyone",
    more: "More visits",
  },
  farms: {
    title: "Farms by standing",
    counts: "How many farms stand how",
    all: "all",
    more: "More farms",
    shown: (n: number) => `${farms(n)} shown, the worst first.`,
    name: "Farm",
    standing: "Standing",
    strip: "Schedule and slip",
    why: "Why",
    holdUp: (name: string) => `What holds it up: ${name}.`,
    noCycle: "No cycle runs.",
    notSwept: "Being worked out.",
    notWatched: "not watched",
  },
  confirm: {
    title: "Farms to confirm",
    intro:
      "These farms came from the register and open no ticket yet. Look at what was found, then start watching them.",
    none: "No farm waits to be confirmed.",
    choose: (farm: string) => `Choose ${farm}`,
    chooseAll: "Choose all that are shown",
    watchOne: "Start watching",
    watchOneOf: (farm: string) => `Start watching ${farm}`,
    watchMany: (n: number) => `Start watching ${farms(n)}`,
    watchBranch: (branch: string) => `Start watching all of ${branch}`,
    sure: (branch: string) =>
      `Start watching every farm of ${branch} that waits? What the sweep finds there opens tickets from now on.`,
    watched: (n: number) => `${farms(n)} watched from now on.`,
    asIf: "would stand as",
    details: (n: number) => count(n, "1 thing in particular", `${number(n)} things in particular`),
    noFindings: "Nothing was found.",
    since: (on: string) => `since ${date(on)}`,
    silenced: (by: string) => `silenced by ${by}`,
    opens: "would open a ticket",
    more: "More farms",
  },
  load: {
    title: "Load",
    intro: "Can the advisors cope, and which rule speaks most?",
    from: "From",
    to: "To",
    totals: (opened: number, reopened: number, settled: number) =>
      `${count(opened, "1 ticket opened", `${number(opened)} tickets opened`)}, ${number(reopened)} reopened, ${number(settled)} settled.`,
    now: (open: number, overdue: number) =>
      `Now ${number(open)} open, ${number(overdue)} of them past their time.`,
    byDay: "Tickets by day",
    bySweep: "by the sweep",
    byPeople: "by people",
    opened: "All",
    day: "Day",
    line: (n: number) => `line: ${number(n)}`,
    showDays: "The same as a table",
    branches: "By branch, for each advisor",
    branch: "Branch",
    advisors: "Advisors",
    noAdvisors: "none; counted as one",
    raised: "Raised by the sweep",
    mean: "Mean a day",
    worst: "Worst day",
    worstOn: (n: string, on: string) => `${n} on ${date(on)}`,
    over: (line: number) => `Days over ${number(line)}`,
    lineWhy: (line: number) =>
      `The line is ${number(line)} raised tickets for one advisor on a bad day (calculated from the alarm rates of ISA-18.2 and EEMUA 191).`,
    rules: "Shares of the rules",
    rule: "Rule",
    tickets: "Tickets",
    share: "Share",
    percent: (share: number) => percent(share * 100),
    origins: "Where tickets came from",
    originHead: "Opened by",
    origin: { sweep: "the sweep", call: "a call", caretaker: "a caretaker", visit: "a visit" } as Record<
      string,
      string
    >,
    bursts: "Many at once",
    burst: (n: number, branch: string, from: string, until: string) =>
      `${number(n)} tickets in ${branch}, from ${from} to ${until}`,
    service: {
      title: "How tickets were served",
      firstCall: (settled: number, calls: number) =>
        `${number(settled)} of ${count(calls, "1 ticket from a call", `${number(calls)} tickets from calls`)} settled on the first call.`,
      firstWord: (inTime: number, spoken: number) =>
        `${number(inTime)} of ${count(spoken, "1 first word", `${number(spoken)} first words`)} in time.`,
      waits: (median: number, ninth: number) =>
        `Half came within ${lasting(median)}, nine in ten within ${lasting(ninth)}.`,
      reopened: (n: number) => `${number(n)} settled and opened again.`,
      stale: (n: number, most: number) =>
        `${number(n)} untouched for 24 hours; up to ${number(most)} on any day is good (ISA-18.2).`,
    },
    people: {
      title: "In whose hands",
      why: "For the person and for managers alone: who carries too much, not who is best.",
      name: "Name",
      inHand: "In hand",
      waiting: "Waiting",
      overdue: "Past their time",
      settled: "Settled",
    },
    outbreaks: {
      title: "The same sign on neighbouring farms",
      one: (sign: string, cases: number, at: number, since: string) =>
        `${sign}: ${count(cases, "1 report", `${number(cases)} reports`)} on ${farms(at)} since ${date(since)}`,
      chance: (expected: number) => `By chance ${number(expected, 1)} would be expected.`,
      alarm: (p: number) =>
        `A space-time permutation test. Where nothing is, it speaks for ${percent(p * 100)} of the signs.`,
    },
    lying: "Left lying",
    lyingHint: "Past their time, and nobody has touched them.",
    noLying: "Nothing was left lying.",
    number: "Ticket",
    farm: "Farm",
    urgency: "Urgency",
    about: "About",
    due: "Plan by",
    holder: "In the hands of",
    nobody: "nobody",
    nothing: "Nothing came up in these days.",
  },
  problems: {
    "watch-which": "Choose the farms to watch.",
    "farm-closed": "One of these farms is closed in the register. Open it again before watching it.",
    "farm-not-found": "One of these farms is not in your branches. Read the list again.",
    invalid: "These days cannot be. Check them.",
  } as Record<string, string>,
};

export type ManagerMessages = typeof en;
export default en;
