// @vitest-environment node
import { expect, it } from "vitest";
import { ticketLine, ticketThread } from "../../../testing/desk";
import { joinable, movesOf } from "./moves";

const me = "ana";

it.each([
  ["reported", "", "assess take settle hand-over due note message ask"],
  ["assessed", "", "assess take wait settle hand-over due note message ask"],
  ["in-hand", me, "assess wait settle hand-over give-back due note message ask"],
  // What is in another's hands can be taken over.
  ["in-hand", "ben", "assess take wait settle hand-over give-back due note message ask"],
  ["waiting", me, "assess take settle hand-over due note message ask"],
  ["settled", me, "reopen note message"],
])("a ticket that is %s in the hands of %j takes: %s", (state, holder, moves) => {
  const ticket = ticketThread({ state, holder_id: holder });
  expect(movesOf(ticket, me, []).join(" ")).toBe(moves);
});

it("gives no later time where a person is in danger", () => {
  expect(movesOf(ticketThread({ urgency: "person-in-danger" }), me, [])).not.toContain("due");
});

it("joins only what is open, of the same farm and as urgent", () => {
  const ticket = ticketThread({ urgency: "losing-time" });
  const others = [
    ticketLine(),
    ticketLine({ id: "t2", urgency: "losing-time" }),
    ticketLine({ id: "t3", urgency: "animals-at-risk" }),
    ticketLine({ id: "t4", urgency: "routine" }),
    ticketLine({ id: "t5", farm_id: "f2" }),
    ticketLine({ id: "t6", state: "settled" }),
  ];
  expect(joinable(ticket, others).map((o) => o.id)).toEqual(["t2", "t3"]);
  expect(movesOf(ticket, me, others)).toContain("join");
});
