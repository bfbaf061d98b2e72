// @vitest-environment node
import { expect, it } from "vitest";
import type { Entry } from "../../offline/entry";
import { aFarm } from "../../testing/today";
import type { Data, Kind } from "./entry";
import { answerOf, overlay } from "./overlay";

const readAt = "2026-03-12T09:00:00.000Z";
let made = 0;

function kept<K extends Kind>(kind: K, data: Data[K], more: Partial<Entry> = {}, on = "2026-03-12"): Entry {
  const id = `e${++made}`;
  const body = { id, farm_id: "f1", cycle_id: "y1", kind, on, device_at: readAt, data };
  return {
    id,
    person: "p",
    at: readAt,
    method: "POST",
    path: "/api/sync",
    body,
    what: kind,
    state: "kept",
    ...more,
  };
}
const view = (farm = aFarm(), on = "2026-03-12", ...entries: Entry[]) => overlay(farm, readAt, on, entries);

it("shows at once what waits on the phone", () => {
  const seen = view(
    aFarm(),
    "2026-03-12",
    kept("day", { all_well: true }),
    kept("item", { item: "soil-moist", answer: "yes" }),
    kept("item", { item: "plant-cover", value: 60 }),
    kept("milestone", { milestone: "cover-ready" }),
    kept("module-read", { enterprise: "snail", module: "feeding" }),
    kept("trouble", { sign: "ants" }, { what: "Ants" }),
    kept("call-me", {}),
  );
  const [unit] = seen.units;
  expect(seen.written_on).toEqual(["2026-03-12"]);
  expect(unit?.checklists?.[0]?.items.map((i) => i.mark?.answer)).toEqual(["yes", "no"]);
  expect(unit?.milestones).toEqual([]);
  expect(unit?.strip?.ticks[2]).toEqual({
    key: "cover-ready",
    name: "Plant cover ready",
    state: "done",
    done_on: "2026-03-12",
  });
  expect(seen.modules[0]?.read_on).toBe("2026-03-12");
  expect(seen.reports[0]).toMatchObject({ text: "Ants", number: "", state: "reported" });
  expect(seen.promises[0]).toMatchObject({ kind: "call-back", mine: true });
});

it("keeps what went after the answer was read, and drops what the answer holds already", () => {
  const after = kept("day", {}, { state: "sent", sentAt: "2026-03-12T09:00:01.000Z" });
  const before = kept("day", {}, { state: "sent", sentAt: "2026-03-12T08:59:59.000Z" });
  expect(view(aFarm(), "2026-03-12", after).written_on).toHaveLength(1);
  expect(view(aFarm(), "2026-03-12", before).written_on).toHaveLength(0);
});

it("leaves out what was refused, what is of another farm, and what is no entry", () => {
  const foreign = kept("day", {});
  (foreign.body as { farm_id: string }).farm_id = "f2";
  const seen = view(
    aFarm(),
    "2026-03-12",
    kept("day", {}, { state: "needs-you" }),
    foreign,
    kept("day", {}, { path: "/api/tickets/t/say" }),
  );
  expect(seen.written_on).toEqual([]);
});

it("counts the days since the answer, where animals live and the day is over", () => {
  const stocked = aFarm({
    stocked: true,
    missing_days: ["2026-03-06", "2026-03-11"],
    written_on: ["2026-03-12"],
  });
  expect(view(stocked, "2026-03-12").missing_days).toEqual(["2026-03-06", "2026-03-11"]);
  expect(view(stocked, "2026-03-14").missing_days).toEqual(["2026-03-11", "2026-03-13"]);
  expect(
    view(stocked, "2026-03-14", kept("could-not", { reason: "rain" }, {}, "2026-03-13")).missing_days,
  ).toEqual(["2026-03-11"]);
  expect(view(aFarm(), "2026-03-20").missing_days).toEqual([]);
});

it.each([
  [70, "yes"],
  [69.9, "no"],
  [undefined, "no"],
])("judges %s as the server does: %s", (value, answer) => {
  const item = aFarm().units[0]?.checklists?.[0]?.items[1];
  expect(item && answerOf(item, value)).toBe(answer);
});
