import { act, fireEvent, render, screen, within } from "@testing-library/preact";
import { LocationProvider } from "preact-iso";
import { beforeEach, expect, it } from "vitest";
import { keepPack } from "../../farm/packs";
import { keepNames } from "../../farm/people";
import { visitWords } from "../../farm/visits/words";
import { farmWords } from "../../farm/words";
import { language } from "../../i18n/language";
import { accessible } from "../../testing/axe";
import { lateCycle, smallPack } from "../../testing/farm";
import { type Answer, fakeServer, type Seen, signedIn } from "../../testing/server";
import { pages } from "./pages";
import { managerWords } from "./words";

beforeEach(async () => {
  language.value = "en";
  await Promise.all([farmWords.load(), managerWords.load(), visitWords.load()]);
  keepPack("snail", smallPack);
  keepNames([{ id: "o1", name: "Tende Ojong" }]);
  signedIn();
  window.history.replaceState(null, "", "/manager");
});

const plain = (element: Element | null) => (element?.textContent ?? "").replace(/[\u00a0\u202f]/g, " ");
const list = (items: unknown[]) => () => ({ items });
const branches = [
  { id: "b1", name: "Buea" },
  { id: "b2", name: "Douala" },
];
const common = {
  "GET /api/branches": list(branches),
  "GET /api/packs": list([
    { enterprise: "snail", name: smallPack.name, version: "1" },
    { enterprise: "catfish", name: { en: "Catfish", fr: "Silures" }, version: "1" },
  ]),
  "GET /api/packs/snail": () => smallPack,
  "GET /api/packs/catfish": () => ({ ...smallPack, enterprise: "catfish" }),
};

async function show(path: string, answers: Record<string, (seen: Seen) => Answer | unknown>) {
  const { seen } = fakeServer({ ...common, ...answers });
  const View = pages.find((p) => p.path === path)?.view;
  if (!View) throw new Error(`no page at ${path}`);
  window.history.replaceState(null, "", path);
  const shown = render(
    <LocationProvider>
      <View params={{}} />
    </LocationProvider>,
  );
  return { ...shown, seen };
}

const cycle = {
  cycle_id: "c1",
  unit_id: "u1",
  unit: "House 1",
  enterprise: "snail",
  purpose: "grow-out",
  outlook: lateCycle.outlook,
};

function scored(key: string, group: string, points: number, values: Record<string, unknown>, code = key) {
  return { key, group, points, counted: points > 0, since: "2026-03-01", size: 0, reason: { code, values } };
}

const need = {
  farm_id: "f1",
  farm: "Three Palms",
  client: "Tabi and Sons",
  branch_id: "b1",
  town: "Limbe",
  landmark: "",
  on: "2026-03-12",
  last_visit: "2026-02-20",
  position: { lat: 4.02, lng: 9.21, known: true },
  standing: "behind",
  own_slip: 19,
  points: 44.5,
  must_go: [],
  reasons: [
    scored("schedule", "schedule", 40, { late_days: 19, hold_up: "cover-ready" }, "behind"),
    {
      ...scored(
        "ticket-open:t1",
        "schedule",
        4,
        { number: "17/26", rule: "milestone-behind" },
        "ticket-open",
      ),
      counted: false,
    },
    scored("caretaker-new:p9", "people", 4.5, { person_id: "p9", days: 3 }, "caretaker-new"),
  ],
  why_not_higher: {
    uncounted: [scored("ticket-open:t1", "schedule", 4, { number: "17/26" }, "ticket-open")],
    next: [
      {
        in_days: 5,
        adds: 20,
        must: false,
        scored: scored("visit-due", "interval", 20, { last: "2026-02-20", days: 25, every_days: 30 }),
      },
    ],
  },
  agenda: [
    { key: "schedule", do: "look-at-hold-up", reason: { code: "behind", values: { late_days: 19 } } },
    { key: "", do: "walk-round", reason: { code: "" } },
  ],
  cycles: [cycle],
  planned: [{ visit_id: "v1", officer_id: "o1", on: "2026-03-17" }],
};
const offMap = {
  ...need,
  farm_id: "f2",
  farm: "Kilomètre Huit",
  town: "Loum",
  landmark: "Behind the market",
  position: { lat: 0, lng: 0, known: false },
  must_go: [scored("twice-the-interval", "interval", 0, { last: "2026-01-01", days: 70, every_days: 30 })],
  planned: [],
};
const needs = { on: "2026-03-12", farms: 14, total: 2, must_go: 1, items: [offMap, need] };

it("lists which farms need a visit with reasons in words, must-go first", async () => {
  const { container } = await show("/manager", {
    "GET /api/visit-needs": () => needs,
    "GET /api/people/p9": () => ({ id: "p9", name: "Joan Sona" }),
  });
  await screen.findAllByText(/^Joan Sona is new, 3.days here, and has met nobody of the firm\.$/);
  const text = plain(container);
  expect(text).toContain("14 farms looked at; 2 need a visit, 1 must be gone to.");
  const [first, second] = [...container.querySelectorAll(".need")];
  expect(plain(first ?? null)).toContain("twice the interval of 30 days");
  const palms = plain(second ?? null);
  expect(palms).toContain("44.5 points");
  expect(palms).toContain(
    "40 pointsBehind: the first harvest 19 days late. What holds it up: Plant cover ready.",
  );
  expect(palms).toContain(
    "Last visit, else handover or intake: 20 Feb 2026, 20 days ago; every 30 days is due.",
  );
  expect(palms).toContain("Tende Ojong goes on 17 Mar 2026.");
  expect(palms).toContain("Ticket 17/26 is open. (schedule, 4 points)");
  expect(palms).toContain(
    "in 5 days, 20 points: Last visit on 20 Feb 2026, 25 days ago; every 30 days is due.",
  );
  expect(palms).toContain("Look at what holds the schedule up");
  expect(plain(container.querySelector(".off-map"))).toBe("Kilomètre Huit, Loum, Behind the market");
  expect(container.querySelectorAll(".map-point")).toHaveLength(1);
  await accessible(container);
});

it("asks for one branch and says so in the address", async () => {
  const { seen } = await show("/manager", {
    "GET /api/visit-needs": () => ({ ...needs, items: [], total: 0 }),
  });
  expect(await screen.findByText("No farm needs a visit today.")).toBeTruthy();
  fireEvent.change(await screen.findByLabelText("Branch"), { target: { value: "b2" } });
  await act(async () => undefined);
  expect(location.search).toBe("?branch=b2");
  expect(
    seen
      .filter((s) => s.path === "/api/visit-needs")
      .at(-1)
      ?.query.get("branch"),
  ).toBe("b2");
});

it("plans a visit once, though the answer was lost the first time", async () => {
  let tries = 0;
  const { seen } = await show("/manager", {
    "GET /api/visit-needs": () => needs,
    "GET /api/people/p9": () => ({ id: "p9", name: "Joan Sona" }),
    "GET /api/people": (request: Seen) =>
      request.query.get("role") === "field-officer"
        ? {
            items: [
              {
                id: "o1",
                name: "Tende Ojong",
                active: true,
                grants: [{ role: "field-officer", branch_id: "" }],
              },
            ],
          }
        : { items: [] },
    "GET /api/visits": list([{ id: "v9", farm: "Hillside", town: "Bamenda", officer_id: "o1" }]),
    "POST /api/visits": () =>
      ++tries === 1 ? { status: 503, body: { code: "busy", detail: "busy" } } : { id: "v2" },
  });
  fireEvent.click(await screen.findByRole("button", { name: "Plan a visit: Three Palms" }));
  const dialog = screen.getByRole("dialog");
  const form = dialog.querySelector("form") as HTMLFormElement;
  fireEvent.submit(form);
  expect(await within(dialog).findByText("Fill this in.")).toBeTruthy();
  await within(dialog).findByRole("option", { name: "Tende Ojong" });
  fireEvent.change(within(dialog).getByLabelText("Who goes?"), { target: { value: "o1" } });
  expect(plain(await within(dialog).findByText(/Hillside/))).toBe("Hillside, Bamenda");
  fireEvent.submit(form);
  expect(plain(await within(dialog).findByText("busy"))).toBe("busy");
  await act(async () => {
    fireEvent.submit(form);
  });
  const [one, two] = seen.filter((s) => s.method === "POST");
  expect(one?.body).toMatchObject({ farm_id: "f1", officer_id: "o1" });
  expect(two?.body).toEqual(one?.body);
  expect(two?.headers["Idempotency-Key"]).toBe(one?.headers["Idempotency-Key"]);
});

it("lists farms by standing with strip, slip, hold-up and why", async () => {
  const farm = {
    ...need,
    id: "f1",
    name: "Three Palms",
    client_id: "k1",
    watched_on: "2026-01-05",
    intake_on: "2026-01-05",
    status: "active",
    swept_on: "2026-03-12",
    version: 1,
  };
  const { container, seen } = await show("/manager/farms", {
    "GET /api/farm-counts": list([{ branch_id: "b1", standing: "behind", watched: true, farms: 3 }]),
    "GET /api/farms": () => ({ items: [farm], next: "2" }),
  });
  await screen.findByRole("link", { name: "Three Palms" });
  const text = plain(container);
  expect(text).toContain("behind 3");
  expect(text).toContain("24 days late");
  expect(text).toContain("Plant cover ready is not done; its latest date was 24 Feb 2026, 16 days ago.");
  expect(text).toContain("What holds it up: Plant cover ready.");
  await accessible(container);
  fireEvent.click(screen.getByRole("button", { name: "behind 3" }));
  await act(async () => undefined);
  expect(seen.at(-1)?.query.get("standing")).toBe("behind");
  expect(await screen.findByRole("button", { name: "More farms" })).toBeTruthy();
});

it("shows what the sweep found on farms to confirm, and watches the chosen ones", async () => {
  const waiting = (id: string, name: string) => ({
    ...need,
    id,
    name,
    client_id: "k1",
    watched_on: "",
    intake_on: "2026-03-01",
    status: "active",
    swept_on: "2026-03-12",
    version: 1,
    as_if_watched: "behind",
    findings: [
      {
        farm_id: id,
        unit_id: "u1",
        cycle_id: "c1",
        rule: "harvest-slip",
        subject: "",
        since: "2026-03-02",
        muted_by: "",
        opens_ticket: true,
        reasons: [
          {
            code: "harvest-slip",
            values: { late_days: 19, harvest: "2027-05-20", hold_up: "cover-ready" },
          },
        ],
      },
    ],
  });
  const { container, seen } = await show("/manager/confirm", {
    "GET /api/to-confirm": list([waiting("f1", "Red Gate"), waiting("f2", "La Source")]),
    "POST /api/farms/watch": (request: Seen) => ({ watched: (request.body as { ids: string[] }).ids.length }),
  });
  await screen.findByRole("link", { name: "Red Gate" });
  expect(plain(container)).toContain(
    "Harvest slipping. The first harvest has slipped by 19 days, to 20 May 2027. What holds it up: Plant cover ready.",
  );
  expect(plain(container)).toContain("since 2 Mar 2026 · would open a ticket");
  await accessible(container);
  fireEvent.click(screen.getByLabelText("Choose all that are shown"));
  fireEvent.click(screen.getByLabelText("Choose La Source"));
  fireEvent.click(screen.getByLabelText("Choose La Source"));
  const submit = screen.getByRole("button", { name: "Start watching 2 farms" });
  await act(async () => {
    fireEvent.submit(submit.closest("form") as HTMLFormElement);
  });
  const sent = seen.find((s) => s.method === "POST");
  expect(sent?.body).toEqual({ ids: ["f1", "f2"] });
});

it("shows the load with its shares as numbers beside the bars", async () => {
  const { container } = await show("/manager/load", {
    "GET /api/outbreaks": () => ({
      on: "2026-03-12",
      alarm: 0.01,
      items: [
        {
          sign: "mites",
          since: "2026-03-10",
          km: 4,
          cases: 5,
          expected: 1.2,
          p: 0.002,
          farms: [
            { farm_id: "f1", farm: "Three Palms" },
            { farm_id: "f2", farm: "Old Mill" },
          ],
        },
      ],
    }),
    "GET /api/load": () => ({
      from: "2026-02-13",
      to: "2026-03-12",
      mine: false,
      opened: 9,
      reopened: 1,
      open: 7,
      overdue: 2,
      settled: 3,
      service: {
        calls: 3,
        first_call: 1,
        spoken: 4,
        in_time: 3,
        median_minutes: 20,
        ninth_minutes: 180,
        stale: 2,
        stale_at_most: 4,
        reopened: 1,
      },
      people: [{ person_id: "ana", name: "Ana Besong", in_hand: 3, waiting: 1, overdue: 0, settled: 2 }],
      origins: [
        { origin: "sweep", tickets: 6 },
        { origin: "call", tickets: 3 },
      ],
      rules: [
        { rule: "milestone-behind", tickets: 5, share: 0.714 },
        { rule: "no-news", tickets: 2, share: 0.286 },
      ],
      days: [{ on: "2026-03-01", branch_id: "b1", opened: 9, raised: 7 }],
      branches: [
        {
          branch_id: "b1",
          branch: "Buea",
          advisors: 0,
          raised: 7,
          mean: 0.25,
          worst: 7,
          worst_on: "2026-03-01",
          line: 6,
          over_days: 1,
        },
      ],
      bursts: [],
      left_lying: [
        {
          id: "t1",
          number: "17/26",
          farm_id: "f1",
          farm: "Three Palms",
          urgency: "losing-time",
          rule: "no-news",
          title: "",
          holder: "",
          plan_by: "2026-03-05T16:00:00Z",
          reasons: [{ code: "no-news", values: { last: "2026-02-01", quiet_days: 30, allowed_days: 21 } }],
        },
      ],
    }),
  });
  await screen.findByRole("table", { name: "Shares of the rules" });
  const text = plain(container);
  expect(text).toContain("9 tickets opened, 1 reopened, 3 settled. Now 7 open, 2 of them past their time.");
  expect(text).toContain("Milestone behind571 %");
  expect(text).toContain("none; counted as one");
  expect(text).toContain("7 on 1 Mar 2026");
  expect(text).toContain("Nothing heard since 1 Feb 2026, for 30 days");
  await accessible(container);
});

it("says that no visit is planned and where to plan one", async () => {
  await show("/manager/visits", { "GET /api/visits": list([]) });
  expect(await screen.findByText(/No visit is planned for the next four weeks/)).toBeTruthy();
  expect(screen.queryByText("Not reported yet")).toBeNull();
});
