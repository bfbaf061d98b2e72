import type { BookPack, SentFarm } from "../roles/phone/compose";
import type { FirstSteps, TodayPage } from "../roles/phone/data";

/** aFarm is a snail house between planting and stocking, as the server sends it: sample data for tests. */
export function aFarm(more: Partial<SentFarm> = {}): SentFarm {
  return {
    id: "f1",
    name: "Hillside",
    on: "2026-03-12",
    time_zone: "Africa/Douala",
    stocked: false,
    advisors: [{ name: "Ana Ekema", phone: "+999670000004" }],
    units: [
      {
        id: "u1",
        name: "House 1",
        enterprise: "snail",
        cycle_id: "y1",
        strip: {
          started_on: "2026-01-21",
          harvest: "first-harvest",
          ticks: [
            { key: "build-finished", state: "implied" },
            { key: "planted", state: "done", done_on: "2026-01-21" },
            { key: "cover-ready", state: "open", p50: "2026-03-16", p90: "2026-03-24" },
            { key: "stocked", state: "ahead", p50: "2026-04-09", p90: "2026-04-26" },
          ],
        },
        milestones: [{ key: "cover-ready" }, { key: "stocked", from: "2026-04-02", after: ["cover-ready"] }],
        lists: [{ key: "readiness" }, { key: "stocking-day", from: "2026-04-05" }],
        work: [
          { key: "read-cover", due: "2026-03-10", until: "cover-ready" },
          { key: "clean", due: "2026-04-16", after: "stocked" },
          { key: "weigh", due: "2026-05-09", after: "stocked" },
        ],
      },
    ],
    modules: [
      { enterprise: "snail", key: "feeding", name: "Feeding and calcium" },
      { enterprise: "snail", key: "watering", name: "Watering", until: "2026-05-10" },
    ],
    more_modules: [],
    missing_days: [],
    written_on: [],
    days: [],
    reports: [],
    promises: [],
    requests: [],
    ...more,
  };
}

/** aStockedFarm is the same house with two hundred snails in it. */
export function aStockedFarm(more: Partial<SentFarm> = {}): SentFarm {
  const [unit] = aFarm().units;
  const units = unit ? [{ ...unit, animals: { put_in: 200, living: 180 } }] : [];
  return aFarm({ stocked: true, units, ...more });
}

/** someBook is what the pack says of the day of a snail house. */
export const someBook: { packs: BookPack[]; language: string } = {
  language: "en",
  packs: [
    {
      enterprise: "snail",
      name: "Snails",
      milestones: [
        { key: "build-finished", name: "Build finished" },
        { key: "planted", name: "Planted" },
        { key: "cover-ready", name: "Plant cover ready", note: "The plants shade the ground." },
        { key: "stocked", name: "First stocking" },
      ],
      lists: [
        {
          key: "readiness",
          name: "Readiness",
          milestone: "ready-to-stock",
          items: [
            { key: "soil-moist", text: "The soil is moist.", help: "Press a handful.", suffices: "word" },
            {
              key: "plant-cover",
              text: "Plants cover 70 per cent.",
              caution: "Gloves.",
              suffices: "staff-saw",
              measured: { measure: "percent", least: 0, most: 100, low: 70 },
            },
          ],
        },
        {
          key: "stocking-day",
          name: "Stocking day",
          milestone: "stocked",
          items: [{ key: "counted", text: "All are counted.", suffices: "word" }],
        },
      ],
      groups: [
        {
          key: "animals",
          name: "The snails",
          drawing: "dead",
          fields: [
            {
              key: "deaths",
              kind: "count",
              name: "Dead",
              none: true,
              lessens: true,
              bounds: { least: 0, most: 10_000_000, whole: true, most_of_stock: 20, ask_of_stock: 0.05 },
            },
            {
              key: "feed_kg",
              kind: "amount",
              measure: "kg",
              name: "Feed given",
              bounds: { least: 0, most: 1000, ask_above: 50 },
            },
          ],
        },
        {
          key: "harvest",
          name: "Harvest and sale",
          folded: true,
          drawing: "basket",
          fields: [
            {
              key: "harvest_kg",
              kind: "amount",
              measure: "kg",
              name: "Taken out",
              bounds: { least: 0, most: 1000 },
            },
            { key: "watering", kind: "choice", name: "Watered", choices: [{ key: "once", name: "Once" }] },
            { key: "treatment", kind: "text", name: "What was used" },
            { key: "treatment_until", kind: "date", name: "Nothing is sold until" },
          ],
        },
      ],
      weighing: { animals: 3, bounds: { least: 0.1, most: 1000, ask_above: 500 } },
      work: [
        {
          key: "read-cover",
          name: "How much is green?",
          how: "Ten steps.",
          drawing: "leaf",
          every: 7,
          first: 0,
          does: "cover",
        },
        {
          key: "clean",
          name: "Clean the house",
          how: "Take out old feed.",
          caution: "Gloves.",
          drawing: "broom",
          every: 7,
          first: 7,
        },
        {
          key: "weigh",
          name: "Weigh ten snails",
          how: "One by one.",
          drawing: "weigh",
          every: 30,
          first: 30,
          does: "weigh",
        },
      ],
    },
  ],
};

/** aDay is the server's answer with these farms. */
export function aDay(...farms: SentFarm[]): TodayPage {
  return { made_at: "2026-03-12T08:30:00Z", ahead_days: 60, language: "en", farms, seen: [] };
}

/** someCards are two first-steps cards: one about a person, one about animals. */
export const someCards: { items: FirstSteps[]; language: string } = {
  language: "en",
  items: [
    {
      enterprise: "snail",
      sign: "electric-shock",
      text: "Someone got a shock",
      danger: true,
      first_words: "Do not touch the person or the water.",
      caution: "People first.",
    },
    { enterprise: "snail", sign: "ants", text: "Ants in the house", first_words: "Find the trail." },
  ],
};
