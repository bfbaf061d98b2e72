import { expect, test } from "vitest";
import { ticketLine } from "../../../testing/desk";
import { alike } from "./alike";

const sign = { rule: "", subject: "no-water", opened_at: "2026-03-12T07:00:00Z" };
const ticket = ticketLine({ id: "t1", ...sign });

test("the same sign on the same farm within 72 hours is likely one thing", () => {
  const others = [
    ticketLine({ id: "t2", ...sign, opened_at: "2026-03-09T07:00:00Z" }),
    ticketLine({ id: "t3", ...sign, opened_at: "2026-03-13T07:00:00Z" }),
    ticketLine({ id: "long-ago", ...sign, opened_at: "2026-03-09T06:59:59Z" }),
    ticketLine({ id: "other-sign", ...sign, subject: "sealed" }),
    ticketLine({ id: "other-farm", ...sign, farm_id: "f2" }),
    ticketLine({ id: "settled", ...sign, state: "settled" }),
    ticketLine({ id: "less-urgent", ...sign, urgency: "no-hurry" }),
    ticket,
  ];
  expect(alike(ticket, others).map((t) => t.id)).toEqual(["t3", "t2"]);
  expect(alike({ ...ticket, subject: "" }, others)).toEqual([]);
  expect(alike({ ...ticket, state: "settled" }, others)).toEqual([]);
});
