import { fireEvent, render, screen, waitFor, within } from "@testing-library/preact";
import { LocationProvider } from "preact-iso";
import { beforeEach, expect, it } from "vitest";
import { language } from "../../i18n/language";
import { accessible } from "../../testing/axe";
import { fakeServer, signedIn } from "../../testing/server";
import { Projection } from "./projection";
import { projectionWords } from "./words";

beforeEach(async () => {
  language.value = "en";
  await Promise.all([projectionWords.load("en"), projectionWords.load("fr")]);
});

const band = (likely: number) => ({ low: likely / 2, likely, high: likely * 2 });
const point = (on: string, likely: number) => ({
  on,
  weeks: 4,
  eggs: band(0),
  hatchlings: band(0),
  juveniles: band(10),
  growers: band(50),
  adults: band(60),
  animals: band(likely),
  kg: band(likely / 5),
  crowding: band(likely / 225),
  saleable: band(likely / 4),
  dead: band(2),
  unseen: band(1),
  moved: band(0),
  sold: band(8),
  sold_kg: band(1.5),
  dry_kg_week: band(3),
  fresh_kg_week: band(14),
  calcium_kg_week: band(0.6),
});
const learned = { used: true, effective: 140, rounds: 3, tempered: 1, questions: [] };
const snails = {
  farm_id: "f1",
  farm: "Sandpit Corner",
  unit_id: "u1",
  unit: "House 1",
  enterprise: "snail",
  species: "archachatina-marginata",
  purpose: "breeding",
  today: "2026-03-12",
  area_m2: 40,
  put_in: 200,
  assumed: { market_g: 220, every_days: 30, parents: 200, thin: false, weeks: 104, changed: false },
  breeding: {
    points: [point("2026-04-06", 200), point("2026-05-04", 260)],
    full_on: "2027-03-01",
    full_early: "2026-12-07",
    full_share: 0.8,
    full_soon: 0,
    empty_share: 0,
    first_sale_on: null,
    learned,
  },
  advice: [
    {
      code: "full-by",
      values: { early: "2026-12-07", likely: "2027-03-01", carries_kg: 50, peak_kg: 90, units: 2 },
    },
    { code: "count-asks", values: { on: "2026-03-01", counted: 120, low: 170, high: 200 } },
  ],
  bare: {
    animals: 150000,
    market_g: 220,
    room: { low: 181.8, likely: 227.3, high: 290.9 },
    times: 660,
    reason: "floor",
    adults: 200,
    layings: 3,
    eggs: 250,
    eggs_year: { low: 12, likely: 50, high: 100 },
    claim: { en: "x", fr: "y" },
  },
  inputs: [
    {
      key: "capacity_kg_m2",
      low: 1,
      likely: 1.25,
      high: 1.6,
      measure: "kg/m2",
      grade: "D",
      citation: "Heliciculture",
    },
    {
      key: "adult_loss",
      low: 0.005,
      likely: 0.02,
      high: 0.04,
      measure: "share-a-month",
      grade: "from-memory",
    },
    { key: "theta", low: 0.5, likely: 1, high: 2, measure: "power", grade: "constructed" },
  ],
};

function show(found: object) {
  signedIn("advisor");
  const server = fakeServer({ "GET /api/units/u1/projection": found });
  const shown = render(
    <LocationProvider>
      <Projection params={{ id: "f1", unit: "u1" }} />
    </LocationProvider>,
  );
  return { server, ...shown };
}

const plain = (element: Element) => (element.textContent ?? "").replace(/[\u00a0\u202f]/g, " ");

it("shows the band as a drawing with its table, room in words, and what it rests on", async () => {
  const { container } = show(snails);
  expect(
    (await screen.findAllByText(/estimates under stated assumptions, not promises of income/)).length,
  ).toBe(2);
  expect(screen.getByRole("img", { name: /^For sale/ })).toBeTruthy();
  const table = within(await screen.findByRole("region", { name: "Month by month" })).getByRole("table");
  expect(plain(within(table).getAllByRole("row")[1] as Element)).toBe(
    "6 Apr 2026200 (100–400)60 (30–120)50 (25–100)8 (4–16)1.5 (0.8–3)40 (20–80)",
  );
  const text = plain(container);
  expect(text).toContain("full by 1 Mar 2027, perhaps as early as 7 Dec 2026");
  expect(text).toContain("Escape, theft or miscount?");
  expect(text).toContain(
    "Nearly full. 1 kg/m² by the end of the month; 1.25 kg/m² is where crowding begins.",
  );
  expect(text).toContain("200 snails × 3 layings × 250 eggs = 150,000 snails a year on paper.");
  expect(text).toContain("This floor carries 182 to 291 snails of 220 g. So the sum cannot come true here");
  expect(text).toContain("our estimate, not yet checked");
  expect(text).toContain("calculated, no direct source");
  await accessible(container);
});

it("says it in French", async () => {
  language.value = "fr";
  const { container } = show(snails);
  await screen.findByText(/Fuite, vol ou erreur de comptage/);
  const text = plain(container);
  expect(text).toContain("pas des promesses de revenu");
  expect(text).toContain("notre estimation, pas encore vérifiée");
  expect(text).not.toContain("kg a week");
  await accessible(container);
});

it("asks the server what would follow, and shows money only for a price", async () => {
  const { server } = show(snails);
  fireEvent.input(await screen.findByLabelText(/^Sell from/), { target: { value: "150" } });
  fireEvent.click(screen.getByRole("button", { name: "See what follows" }));
  await waitFor(() => expect(server.seen.length).toBe(2));
  expect(server.seen[1]?.query.get("market_g")).toBe("150");
  expect(server.seen[1]?.query.has("price_animal")).toBe(false);
  expect(screen.queryByText(/Left over by these prices/)).toBeNull();
});

it("says why there is nothing to show", async () => {
  show({ ...snails, breeding: undefined, why: "no-area", advice: [], inputs: [] });
  expect(await screen.findByText(/how large the unit is/)).toBeTruthy();
});

it("shows a tank by weight class, with the feed to order", async () => {
  const week = (on: string, g: number) => ({
    on,
    fish: band(900),
    mean_g: band(g),
    kg: band((900 * g) / 1000),
    feed_kg: band(12),
    classes: [
      { from_g: 0, to_g: 500, fish: band(100), kg: band(30) },
      { from_g: 500, to_g: 0, fish: band(800), kg: band(500) },
    ],
  });
  const { container } = show({
    ...snails,
    enterprise: "catfish",
    breeding: undefined,
    bare: undefined,
    growing: {
      points: [week("2026-04-06", 500), week("2026-04-13", 900)],
      survival: band(0.4),
      fcr: band(1.2),
      feed_kg_4_weeks: band(46),
      ready_early: "2026-04-06",
      ready_likely: "2026-04-13",
      ready_late: null,
      learned,
    },
    advice: [{ code: "ready-by", values: { likely: "2026-04-13", market_g: 800 } }],
  });
  expect(await screen.findByText(/For the next four weeks: about 46/)).toBeTruthy();
  const text = plain(container);
  expect(text).toContain("The mean weight passes 800 g about 13 Apr 2026.");
  expect(text).toContain("below 500 g100 (50–200)");
  await accessible(container);
});
