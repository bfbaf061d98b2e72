// @vitest-environment node
import { expect, it } from "vitest";
import { ticketEvent, ticketThread } from "../../../testing/desk";
import { changesOf } from "./differences";

it("says what has changed since, and by what", () => {
  const seen = ticketThread();
  const taken = ticketEvent({ id: "e2", kind: "moved", from: "reported", to: "in-hand", person_id: "ben" });
  const now = { ...seen, state: "in-hand", holder_id: "ben", holder: "Ben", events: [...seen.events, taken] };
  expect(changesOf(seen, now)).toEqual({
    differences: [
      { field: "state", was: "reported", is: "in-hand" },
      { field: "holder", was: "", is: "Ben" },
    ],
    events: [taken],
  });
  expect(changesOf(now, now)).toEqual({ differences: [], events: [] });
});
