import type { Thread, TicketLine } from "../api/types";

const never = "0001-01-01T00:00:00Z";

/** A ticket of the sweep about a late milestone, reported this morning; `more` changes what a test is about. */
export function ticketLine(more: Partial<TicketLine> = {}): TicketLine {
  const reasons = [
    { code: "milestone-behind", values: { milestone: "cover-ready", late_days: 16, target: "2026-02-24" } },
  ];
  return {
    id: "t1",
    number: "17/26",
    farm_id: "f1",
    farm: "Sandpit Corner",
    branch_id: "b1",
    unit_id: "u1",
    cycle_id: "c1",
    rule: "milestone-behind",
    subject: "cover-ready",
    origin: "sweep",
    title: "",
    state: "reported",
    waiting_on: "",
    holder_id: "",
    holder: "",
    impact: "middle",
    time_to_loss: "week",
    urgency: "losing-time",
    opened_on: "2026-03-12",
    opened_at: "2026-03-12T07:00:00Z",
    first_word_by: "2026-03-13T09:00:00Z",
    plan_by: "2026-03-17T09:00:00Z",
    first_word_at: never,
    settled_at: never,
    settled_on: "",
    settled_by: "",
    outcome: "",
    reasons,
    first_reasons: reasons,
    gone_on: "",
    rests_until: "",
    reopened: [],
    keeps_coming: false,
    previous_id: "",
    joined_into: "",
    call_id: "",
    visit_id: "",
    touched_at: "2026-03-12T07:00:00Z",
    version: 1,
    ...more,
  };
}

/** The same ticket with its thread and the moves that its state allows. */
export function ticketThread(more: Partial<Thread> = {}): Thread {
  const line = ticketLine(more);
  const moves: Record<string, string[]> = {
    reported: ["assessed", "in-hand", "settled"],
    assessed: ["in-hand", "waiting", "settled"],
    "in-hand": ["assessed", "waiting", "settled"],
    waiting: ["in-hand", "settled"],
    settled: ["assessed"],
  };
  return {
    ...line,
    moves: moves[line.state] ?? [],
    events: [ticketEvent({ id: "e1", kind: "opened", to: "reported", data: { origin: line.origin } })],
    ...more,
  };
}

/** One line of a thread. */
export function ticketEvent(more: Partial<Thread["events"][number]> = {}): Thread["events"][number] {
  return {
    id: "e1",
    ticket_id: "t1",
    person_id: "",
    at: "2026-03-12T07:00:00Z",
    on: "2026-03-12",
    kind: "note",
    from: "reported",
    to: "reported",
    text: "",
    ...more,
  };
}
