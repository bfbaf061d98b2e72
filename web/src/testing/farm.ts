import type { CyclePage, FarmPage, Pack, PackField } from "../api/types";

const text = (en: string, fr = en) => ({ en, fr });
const basis = { grade: "common-practice" };

/** A small pack for tests: three milestones, one list, one go-ahead. */
export const smallPack: Pack = {
  enterprise: "snail",
  name: text("Snails", "Escargots"),
  version: "1",
  purposes: ["grow-out"],
  start: "planted",
  stocking: "stocked",
  harvest: "first-harvest",
  milestones: [
    milestone("planted", "Planted", "Plantation faite"),
    milestone("cover-ready", "Plant cover ready", "Couvert végétal prêt", {
      reading: "cover",
      kind: "living",
    }),
    milestone("ready-to-stock", "Ready to stock", "Prêt pour la mise en charge", {
      go_ahead: "ready-to-stock",
    }),
    milestone("stocked", "First stocking", "Première mise en charge"),
    milestone("first-harvest", "First harvest", "Première récolte", {
      kind: "living",
      days: { grade: "D", source: "ssf" },
      reading: "weight",
    }),
  ],
  checklists: [
    {
      key: "readiness",
      name: text("Readiness", "Avant la mise en charge"),
      milestone: "ready-to-stock",
      items: [
        item("walls-tight", "No gap is wider than 5 mm.", { measure: "mm", high: 5, grade: "T" }),
        item("door-closes", "The door closes."),
        item("feed-in-store", "Feed is in store.", undefined, "word"),
      ],
    },
  ],
  go_aheads: [
    {
      key: "ready-to-stock",
      name: text("Go-ahead for stocking", "Feu vert pour la mise en charge"),
      milestone: "ready-to-stock",
      items: ["walls-tight", "door-closes", "feed-in-store"],
      modules: ["moving-safely"],
      limits: [{ reading: "cover", low: 70, fresh: 14, grade: "common-practice" }],
      lead_days: 14,
    },
  ],
  modules: [
    {
      key: "moving-safely",
      name: text("Moving safely", "Se déplacer sans danger"),
      safety: true,
      months: 6,
      go_aheads: ["ready-to-stock"],
    },
    {
      key: "feeding",
      name: text("Feeding", "Alimentation"),
      safety: false,
      months: 12,
      go_aheads: ["ready-to-stock"],
    },
  ],
  daybook: {
    groups: [
      {
        key: "animals",
        name: text("The snails", "Les escargots"),
        folded: false,
        drawing: "dead",
        fields: [
          field("deaths", "count", "Dead", "Morts", {
            none: true,
            lessens: true,
            bounds: {
              least: 0,
              most: 10_000,
              most_of_stock: 20,
              ask_of_stock: 0.03,
              ask_above: 100,
              whole: true,
            },
          }),
        ],
      },
      {
        key: "care",
        name: text("Feed and water", "Aliment et eau"),
        folded: false,
        drawing: "bowl",
        fields: [
          field("feed_kg", "amount", "Feed given", "Aliment donné", {
            measure: "kg",
            bounds: { least: 0, most: 1000, ask_above: 50 },
          }),
          field("watering", "choice", "Watered", "Arrosage", {
            choices: [
              { key: "not", name: text("No, the soil was wet", "Non, le sol était humide") },
              { key: "once", name: text("Once", "Une fois") },
              { key: "rain", name: text("Rain did it", "La pluie l'a fait") },
            ],
          }),
          field("temperature_c", "amount", "Temperature", "Température", {
            measure: "celsius",
            bounds: { least: 0, most: 55, ask_below: 15, ask_above: 38 },
          }),
          field("treatment", "text", "What was used", "Ce qui a été utilisé"),
          field("treatment_until", "date", "Nothing is sold until", "Rien n'est vendu avant le"),
        ],
      },
    ],
    weighing: { animals: 10, bounds: {}, basis },
    work: [
      {
        key: "walk-the-wall",
        name: text("Walk along the wall", "Faire le tour du mur"),
        how: text("Look for holes.", "Cherchez les trous."),
        drawing: "wall",
        every: 7,
        from: "planted",
        grade: "common-practice",
      },
    ],
  },
  signs: [],
  species: [
    {
      key: "archachatina-marginata",
      name: text("Big black snail", "Gros escargot noir"),
      latin: "Archachatina marginata",
      densities: [],
      market_g: { low: 150, typical: 220, high: 260, grade: "constructed" },
      stocked_g: { low: 22, typical: 35, high: 68, grade: "constructed" },
      max_per_m2: { value: 1000, grade: "D" },
    },
  ],
  words: { water: [{ key: "well", name: text("Well", "Puits") }] },
  cautions: {},
  claims: [
    {
      text: text(
        "The trade says that a snail house sells about twelve months after it is planted.",
        "Dans le métier, on dit qu'une escargotière vend environ douze mois après la plantation.",
      ),
      from: "planted",
      to: "first-harvest",
      days: 365,
      grade: "common-practice",
    },
  ],
  sources: { ssf: { citation: "A book about snails", grade: "A" } },
};

function milestone(key: string, en: string, fr: string, more: Partial<Pack["milestones"][number]> = {}) {
  return {
    key,
    name: text(en, fr),
    note: text("A note"),
    days: basis,
    curve: { grade: "" },
    by: ["field-officer"],
    go_ahead: "",
    on_way: true,
    kind: "work",
    purposes: [],
    reading: "",
    ...more,
  };
}

function field(
  key: string,
  kind: PackField["kind"],
  en: string,
  fr: string,
  more: Partial<PackField> = {},
): PackField {
  return {
    key,
    kind,
    name: text(en, fr),
    none: false,
    lessens: false,
    bounds: {},
    basis: { grade: "" },
    ...more,
  };
}

function item(
  key: string,
  en: string,
  measured?: { measure: string; high?: number; low?: number; grade: string },
  suffices = "staff-saw",
) {
  return {
    key,
    text: text(en),
    help: text("Look closely."),
    suffices,
    by: ["field-officer"],
    in_person: suffices !== "word",
    milestone: "ready-to-stock",
    ...(measured ? { measured } : {}),
  };
}

/** A cycle of the small pack: planted on time, the cover late, half of the go-ahead verified. */
export const lateCycle: CyclePage = {
  id: "c1",
  farm_id: "f1",
  unit_id: "u1",
  enterprise: "snail",
  purpose: "grow-out",
  starts_with: "",
  started_on: "2026-01-05",
  ended_on: "",
  version: 3,
  outlook: {
    on: "2026-03-12",
    started_on: "2026-01-05",
    standing: "behind",
    schedule: "behind",
    reasons: [
      {
        code: "milestone-past-latest",
        values: { milestone: "cover-ready", latest: "2026-02-24", days: 16 },
      },
      { code: "slip", values: { days: 19, limit_days: 18 } },
    ],
    next: "cover-ready",
    harvest: { p10: "2027-02-01", p50: "2027-05-20", p90: "2027-09-02" },
    target: "2027-05-01",
    slip: { total: 24, own: 19, pause: 5, to_stocking: 19 },
    hold_up: "cover-ready",
    lost: [
      { key: "cover-ready", days: 17 },
      { key: "season", days: 2 },
      { key: "stocked", days: -1 },
    ],
    not_heard_since: "",
    cover_late: 0.9,
    growth_late: 0,
    miss_season: 0.23,
    milestones: [
      swept("planted", "done", "2026-01-05", "2026-01-05", "2026-01-05"),
      swept("cover-ready", "open", "", "2026-02-14", "2026-03-20"),
      swept("ready-to-stock", "ahead", "", "2026-02-16", "2026-03-22"),
      swept("stocked", "ahead", "", "2026-02-18", "2026-03-24"),
      swept("first-harvest", "ahead", "", "2027-05-01", "2027-05-20"),
    ],
  },
  milestones: [
    row("planted", "2026-01-05", "2026-01-05", "staff-saw"),
    row("cover-ready", "2026-02-14"),
    row("ready-to-stock", "2026-02-16"),
    row("stocked", "2026-02-18"),
    row("first-harvest", "2027-05-01"),
  ],
  marks: [
    mark("door-closes", "yes", "word"),
    mark("walls-tight", "no", "staff-saw", 8),
    mark("feed-in-store", "yes", "word"),
  ],
  readings: [],
  pauses: [],
  go_aheads: [
    {
      key: "ready-to-stock",
      milestone: "ready-to-stock",
      missing: [
        { code: "item-missing", thing: "walls-tight" },
        { code: "item-missing", thing: "door-closes" },
        { code: "module-missing", thing: "moving-safely" },
        { code: "reading-missing", thing: "cover" },
      ],
    },
  ],
};

function swept(key: string, state: string, done: string, target: string, p50: string) {
  return {
    key,
    state,
    done_on: done,
    earliest: target,
    target,
    latest: target,
    p10: p50,
    p50,
    p90: p50.replace(/-\d\d$/, "-28"),
  };
}

function row(key: string, target: string, done = "", grade = "") {
  return {
    cycle_id: "c1",
    key,
    earliest: target,
    target,
    latest: target,
    done_on: done,
    grade,
    done_by: done ? "p1" : "",
  };
}

function mark(itemKey: string, answer: string, grade: string, value?: number) {
  return {
    cycle_id: "c1",
    item: itemKey,
    answer,
    grade,
    on: "2026-03-01",
    person_id: "p1",
    event_id: `e-${itemKey}`,
    made: "",
    ...(value === undefined ? {} : { value }),
  };
}

/** A farm with one unit, one caretaker who passed one module, and one snag. */
export const smallFarm: FarmPage = {
  id: "f1",
  client_id: "k1",
  client: "Njoh Family",
  branch_id: "b1",
  branch: {
    id: "b1",
    name: "Buea",
    time_zone: "Africa/Douala",
    country: "CM",
    start: { lat: 0, lng: 0, known: false },
    start_at: "",
    hours: [],
    version: 1,
  },
  owner: { id: "k1", name: "Njoh Family", phone: "+237550000001", owner_id: "", version: 1 },
  name: "Sandpit Corner",
  town: "Buea",
  landmark: "Behind the sandpit",
  position: { lat: 4.15, lng: 9.24, known: true },
  status: "active",
  watched_on: "2026-01-05",
  intake_on: "2026-01-05",
  standing: "behind",
  own_slip: 19,
  swept_on: "2026-03-12",
  version: 4,
  cycles: [],
  past_cycles: [],
  units: [
    {
      id: "u1",
      farm_id: "f1",
      name: "House 1",
      enterprise: "snail",
      species: "archachatina-marginata",
      version: 2,
      area_m2: 18.58,
      length_m: 6.096,
      length_ft: 20,
      width_m: 3.048,
      width_ft: 10,
      pump_kw: 1.11855,
      batches: [],
      cycle: lateCycle,
      build: {
        length: { value: 20, measure: "ft" },
        width: { value: 10, measure: "ft" },
        capacity: 600,
        standard: "revision 2",
        wall_base: "concrete-block",
        cover: "net",
        double_door: "yes",
        drain: "no",
        lined: "",
        paths: "",
        feed_platforms: "",
        water: "well",
        tank_litres: 1000,
        pump: { value: 1.5, measure: "hp" },
        handed_over_on: "2026-01-02",
        defects_months: 6,
      },
    },
  ],
  people: [
    {
      farm_id: "f1",
      person_id: "p2",
      in_charge: true,
      since: "2026-01-05",
      name: "Eposi Njoh",
      phone: "+237550000002",
      language: "en",
      passes: [
        {
          person_id: "p2",
          enterprise: "snail",
          module: "moving-safely",
          on: "2025-08-01",
          until: "2026-02-01",
          how: "in-person",
          by_id: "p1",
        },
      ],
    },
  ],
  snags: [
    {
      id: "s1",
      farm_id: "f1",
      unit_id: "u1",
      text: "The gutter drips",
      found_on: "2026-02-01",
      fixed_on: "",
      fixed_by: "",
      version: 1,
    },
  ],
};
