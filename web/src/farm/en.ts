import { formatsOf } from "../i18n/format";
import { agenda, causes, reasons, rules } from "./reasons.en";

const { date, days, plural } = formatsOf("en");

/** The words for a farm and its tickets, as product.md has them. */
const en = {
  farm: "Farm",
  noFarm: "No farm is known by the name",
  standing: {
    "on-course": "on course",
    slipping: "slipping",
    behind: "behind",
    "no-news": "no news",
    paused: "paused",
    complete: "complete",
    "to-confirm": "to confirm",
  },
  urgency: {
    "person-in-danger": "person in danger",
    "animals-at-risk": "animals at risk",
    "losing-time": "losing time",
    routine: "routine",
    "no-hurry": "no hurry",
  },
  state: {
    reported: "reported",
    assessed: "assessed",
    "in-hand": "in hand",
    waiting: "waiting",
    settled: "settled",
  },
  waitingOn: {
    farm: "waiting on the farm",
    supplier: "waiting on the supplier",
    electrician: "waiting on the electrician",
    vet: "waiting on the vet",
    us: "waiting on us",
  },
  grade: {
    photo: "photo",
    "staff-saw": "staff saw it",
    word: "word of the caretaker",
    register: "from the register",
  },
  milestoneState: {
    done: "done",
    implied: "done, date unknown",
    open: "next",
    ahead: "ahead",
  },
  firm: "Inside the firm",
  slip: (by: number) =>
    by === 0 ? "on its planned day" : by > 0 ? `${days(by)} late` : `${days(-by)} early`,
  harvestSlip: (by: number) => `First harvest ${en.slip(by)}`,
  strip: {
    started: (on: string) => `Started ${date(on)}.`,
    progress: (done: number, all: number) => `${done} of ${all} milestones done.`,
    lastDone: (name: string, on: string) => `The last: ${name}, ${date(on)}.`,
    next: (name: string) => `Next: ${name}.`,
    planned: (from: string, to: string) => `Planned between ${date(from)} and ${date(to)}.`,
    expected: (on: string, p90: string) => `Most likely ${date(on)}, 9 times in 10 before ${date(p90)}.`,
    harvest: "First harvest.",
    late: (by: number) => `${en.harvestSlip(by)}.`,
    today: "today",
    nothing: "No dates yet.",
    legend: {
      band: "planned",
      done: "done",
      forecast: "most likely, 9 times in 10 before the end of the line",
      today: "today",
    },
  },
  map: { nearer: "Nearer", farther: "Farther" },
  newTickets: (n: number) => plural(n, { one: `${n} new ticket`, other: `${n} new tickets` }),
  andLater: (n: number) =>
    plural(n, {
      one: "1 later milestone is past its own too.",
      other: `${n} later milestones are past theirs too.`,
    }),
  reasons,
  rules,
  agenda,
  causes,
  otherReason: (code: string, values: string) =>
    values ? `Another reason: ${code} (${values})` : `Another reason: ${code}`,
};

export type FarmMessages = typeof en;
export default en;
