import { beforeEach, expect, it, vi } from "vitest";
import { begin } from "../../../api/session";
import { ticketThread } from "../../../testing/desk";
import type { Move } from "./moves";
import { sendMove } from "./send";
import { type Values, valuesFor } from "./values";

const asked = vi.fn();

beforeEach(() => {
  asked.mockReset();
  begin({
    access_token: "x",
    person: { id: "ana", name: "Ana", language: "en", grants: [{ role: "advisor", branch_id: "" }] },
  });
  vi.stubGlobal("fetch", (path: string, init: RequestInit) => {
    const headers = init.headers as Record<string, string>;
    asked(path, JSON.parse(String(init.body)), headers["If-Match"], headers["Idempotency-Key"]);
    return Promise.resolve(new Response(JSON.stringify(ticketThread({ version: 4 }))));
  });
});

const zone = "Africa/Douala";
const here = { me: "ana", zone, key: "k1" };
const now = new Date("2026-03-12T09:00:00Z");

it.each<[Move, string, Partial<Values>, string, object]>([
  [
    "assess",
    "reported",
    { impact: "high", note: " Bad " },
    "assess",
    { impact: "high", time_to_loss: "week", danger: false, why: "Bad" },
  ],
  ["take", "assessed", {}, "move", { to: "in-hand" }],
  ["take", "in-hand", {}, "hand-over", { to: "ana" }],
  ["give-back", "in-hand", { note: "Not mine" }, "move", { to: "assessed", note: "Not mine" }],
  ["wait", "in-hand", { waitingOn: "vet" }, "move", { to: "waiting", waiting_on: "vet" }],
  [
    "settle",
    "in-hand",
    { outcome: "Mended", learned: "Carry a fuse" },
    "move",
    { to: "settled", outcome: "Mended", learned: "Carry a fuse" },
  ],
  ["hand-over", "in-hand", { to: "ben" }, "hand-over", { to: "ben" }],
  [
    "due",
    "assessed",
    { date: "2026-03-20", time: "10:00", note: "No seed" },
    "due",
    { plan_by: "2026-03-20T09:00:00.000Z", why: "No seed" },
  ],
  ["join", "reported", { into: "t2" }, "join", { into: "t2" }],
  ["reopen", "settled", { note: "Still dry" }, "move", { to: "assessed", note: "Still dry" }],
])(
  "%s of a ticket that is %s goes to its operation with the version seen",
  async (move, state, more, end, body) => {
    const ticket = ticketThread({ state, version: 3, holder_id: "ben" });
    const answer = await sendMove(move, ticket, { ...valuesFor(ticket, now, zone), ...more }, here);
    expect(asked).toHaveBeenCalledWith(`/api/tickets/t1/${end}`, body, '"3"', expect.any(String));
    expect(answer.version).toBe(4);
  },
);

it.each<[Move, boolean]>([
  ["note", true],
  ["message", false],
])("a %s needs no version and is said once", async (move, inside) => {
  const ticket = ticketThread();
  await sendMove(move, ticket, { ...valuesFor(ticket, now), note: "On our way" }, here);
  expect(asked).toHaveBeenCalledWith("/api/tickets/t1/say", { text: "On our way", inside }, undefined, "k1");
});
