// @vitest-environment node
import { expect, it } from "vitest";
import type { Entry } from "../../offline/entry";
import { aFarm, aStockedFarm, someBook } from "../../testing/today";
import { compose } from "./compose";
import type { Data, Kind } from "./entry";
import { inHand } from "./in-hand";
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
const view = (farm = aFarm(), on = "2026-03-12", ...entries: Entry[]) =>
  overlay(compose(farm, someBook.packs), readAt, on, entries);
const keys = (all: readonly { key: string }[] | undefined) => (all ?? []).map((one) => one.key);

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
  expect(keys(unit?.milestones)).toEqual(["stocked"]);
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

it("ends what the firm asked for with either answer", () => {
  const ask = (id: string) => ({ id, text: "Close the gap", due_on: "2026-03-14", by: "Ana" });
  const farm = aFarm({ requests: ["r1", "r2", "r3"].map(ask) });
  const seen = view(
    farm,
    "2026-03-12",
    kept("request", { request: "r1" }),
    kept("could-not", { task: "request:r2", reason: "rain" }),
  );
  expect(seen.requests.map((r) => r.id)).toEqual(["r3"]);
  expect(seen.doneToday).toBe(2);
  expect(seen.written_on, "it is no word on the day").toEqual([]);
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
  const item = view().units[0]?.checklists[0]?.items[1];
  expect(item && answerOf(item, value)).toBe(answer);
});

// What is in hand on a day, of what the server shipped on 12 March.
function on(day: string, ...entries: Entry[]) {
  const [unit] = inHand(view(aFarm(), day, ...entries), day).units;
  return { milestones: keys(unit?.milestones), lists: keys(unit?.checklists), work: keys(unit?.work) };
}

it("picks by the date what was shipped ahead", () => {
  expect(on("2026-03-12")).toEqual({
    milestones: ["cover-ready"],
    lists: ["readiness"],
    work: ["read-cover"],
  });
  const cover = kept("milestone", { milestone: "cover-ready" }, {}, "2026-03-20");
  expect(on("2026-03-21", cover)).toEqual({ milestones: [], lists: ["readiness"], work: [] });
  // Forty days on, without a network: the stocking is asked for, with its list.
  expect(on("2026-04-21", cover)).toEqual({
    milestones: ["stocked"],
    lists: ["readiness", "stocking-day"],
    work: [],
  });
  const stocked = kept("milestone", { milestone: "stocked" }, {}, "2026-04-14");
  expect(on("2026-04-20", cover, stocked).work).toEqual([]);
  expect(on("2026-04-21", cover, stocked).work).toEqual(["clean"]);
  expect(on("2026-04-29", cover, stocked).lists).toEqual(["readiness"]);
});

it("holds back what another of the caretaker's own steps comes before", () => {
  expect(on("2026-04-21").milestones).toEqual(["cover-ready"]);
});

it("asks for work again after its days, and for a module once its pass has ended", () => {
  const read = kept("cover", { percent: 40 }, {}, "2026-03-12");
  expect(on("2026-03-18", read).work).toEqual([]);
  expect(on("2026-03-19", read).work).toEqual(["read-cover"]);
  expect(view(aFarm(), "2026-04-10").modules.map((m) => m.key)).toEqual(["feeding"]);
  expect(view(aFarm(), "2026-04-11").modules.map((m) => m.key)).toEqual(["feeding", "watering"]);
});

it("lets the mended day stand, and a task that could not be done is no word on the day", () => {
  const farm = aStockedFarm({ days: [{ id: "d1", on: "2026-03-11", data: { deaths: 3 } }] });
  const mend = kept("day", { deaths: 1 }, {}, "2026-03-11");
  (mend.body as { replaces: string }).replaces = "d1";
  expect(view(farm, "2026-03-12", mend).days.map((d) => d.data)).toEqual([{ deaths: 1 }]);
  const failed = view(farm, "2026-03-12", kept("could-not", { reason: "rain", task: "work:y1:clean" }));
  expect(failed.written_on).toEqual([]);
  expect(failed.couldNot).toEqual({ "work:y1:clean": "rain" });
});

it("does without the book of an older version", () => {
  const seen = overlay(compose(aFarm(), []), readAt, "2026-03-12", []);
  expect(seen.units[0]?.strip?.ticks[2]?.name).toBe("cover ready");
  expect(seen.units[0]?.checklists).toEqual([]);
});
