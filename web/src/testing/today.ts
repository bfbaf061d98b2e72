import type { FirstSteps, TodayFarm, TodayPage } from "../roles/phone/data";

/** aFarm is a snail house between planting and stocking: sample data for tests. */
export function aFarm(more: Partial<TodayFarm> = {}): TodayFarm {
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
        reading: "cover",
        strip: {
          started_on: "2026-01-21",
          harvest: "first-harvest",
          ticks: [
            { key: "build-finished", name: "Build finished", state: "implied" },
            { key: "planted", name: "Planted", state: "done", done_on: "2026-01-21" },
            {
              key: "cover-ready",
              name: "Plant cover ready",
              state: "open",
              p50: "2026-03-16",
              p90: "2026-03-24",
            },
            { key: "stocked", name: "First stocking", state: "ahead", p50: "2026-04-09", p90: "2026-04-26" },
          ],
        },
        milestones: [{ key: "cover-ready", name: "Plant cover ready", note: "The plants shade the ground." }],
        checklists: [
          {
            key: "readiness",
            name: "Readiness",
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
        ],
      },
    ],
    modules: [{ enterprise: "snail", key: "feeding", name: "Feeding and calcium" }],
    missing_days: [],
    written_on: [],
    reports: [],
    promises: [],
    ...more,
  };
}

/** aDay is the server's answer with these farms. */
export function aDay(...farms: TodayFarm[]): TodayPage {
  return { made_at: "2026-03-12T08:30:00Z", language: "en", farms };
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
