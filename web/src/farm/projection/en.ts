import { formatsOf } from "../../i18n/format";

const { date, measure, number, percent, plural } = formatsOf("en");

const band = (low: string, high: string) => `${low} to ${high}`;

const en = {
  title: (unit: string) => (unit ? `What lies ahead: ${unit}` : "What lies ahead"),
  why: {
    "no-figures": "The firm has no figures for these animals yet, so nothing is projected.",
    "no-area": "The build sheet does not say how large the unit is. Enter its length and width first.",
    "no-animals": "Nothing has been put in yet. The projection begins with the first stocking.",
    "too-old": "The animals were put in more than five years ago. Count them and start a new cycle.",
  } as Record<string, string>,
  caution: "Projections are estimates under stated assumptions, not promises of income.",
  bandHint: "The line is the most likely course. In 8 lives out of 10 the unit stays inside the band.",
  learned: (effective: number) =>
    `Fitted to this unit’s own numbers (${number(effective)} independent runs explain them).`,
  unlearned: "Nothing has been counted or written here yet, so this rests on the firm’s figures alone.",
  tempered: (part: number) =>
    `The unit’s numbers hardly fit what is known of these animals. They count with ${percent(100 * part)} of their weight; have them checked.`,

  advice: {
    "full-now": (v: Values) =>
      `The unit is crowded, or will be within 28 days: ${percent(v.n("percent"))} likely. It carries about ${measure(v.n("carries_kg"), "kg")}. Sell, or move animals out now.`,
    "full-by": (v: Values) =>
      v.s("likely")
        ? `The unit is full by ${date(v.s("likely"))}, perhaps as early as ${date(v.s("early"))}. It carries about ${measure(v.n("carries_kg"), "kg")}; have ${plural(v.n("units"), { one: "room", other: `${number(v.n("units"))} units of this size` })} or a buyer ready by the earlier date.`
        : `The unit may be full as early as ${date(v.s("early"))}. It carries about ${measure(v.n("carries_kg"), "kg")}; look again before that date.`,
    "room-enough": (v: Values) =>
      `There is room for what is expected: at most ${measure(v.n("peak_kg"), "kg")} of about ${measure(v.n("carries_kg"), "kg")}.`,
    "count-asks": (v: Values) =>
      `The count of ${date(v.s("on"))} was ${number(v.n("counted"))}; ${band(number(v.n("low")), number(v.n("high")))} were expected. Escape, theft or miscount? Ask the farm. Until then the count moves nothing.`,
    "ready-by": (v: Values) =>
      `The mean weight passes ${measure(v.n("market_g"), "g")} about ${date(v.s("likely"))}${v.s("early") && v.s("late") ? `, between ${date(v.s("early"))} and ${date(v.s("late"))} 8 times in 10` : ""}.`,
  } as Record<string, (v: Values) => string>,
  countHelp:
    "Escaped or stolen: write them as missing in the daybook. Miscounted: count again. If the count is right, look below at what it would mean.",

  density: {
    title: "Room",
    now: (kgM2: string, carries: string) =>
      `${kgM2} kg/m² by the end of the month; ${carries} kg/m² is where crowding begins.`,
    words: {
      roomy: "Plenty of room.",
      good: "Well filled.",
      tight: "Nearly full.",
      crowded: "Crowded: animals grow more slowly, lay less and die more.",
    },
  },
  kg: "Weight of all animals, kg",
  carries: "what the floor carries",
  animals: "Animals",
  adults: "Adults",
  saleable: (g: number) => `For sale (from ${measure(g, "g")})`,
  sold: "Sold",
  soldKg: "Sold, kg",
  fish: "Fish",
  meanG: "Mean weight, g",
  month: "By",
  week: "Week to",
  perMonth: "Month by month",
  perWeek: "Week by week",
  feed: {
    title: "Feed and calcium in the coming months",
    table: "Feed by month",
    fish: "Feed to order",
    hint: "A week, for all animals. Fresh feed is a ceiling; give what is eaten by morning.",
    dry: "Dry feed, kg a week",
    fresh: "Leaves and fruit, kg a week",
    calcium: "Shell powder, kg a week",
    order: (low: number, likely: number, high: number) =>
      `For the next four weeks: about ${measure(likely, "kg")}, between ${number(low)} and ${measure(high, "kg")}.`,
    kg: "Feed, kg",
  },
  classes: "By weight class",
  class: "Weight",
  classFrom: (from: number) => `${number(from)} g and more`,
  classTo: (to: number) => `below ${measure(to, "g")}`,
  classBetween: (from: number, to: number) => `${number(from)} to ${measure(to, "g")}`,
  survival: (low: number, likely: number, high: number) =>
    `Alive at the end: about ${percent(100 * likely)} (${number(100 * low)} to ${percent(100 * high)}).`,
  fcr: (low: number, likely: number, high: number) =>
    `Feed for a kilo of gain: about ${measure(likely, "kg", 2)} (${number(low, 2)} to ${measure(high, "kg", 2)}).`,

  bare: {
    title: "What the trade promises",
    sum: (adults: number, layings: number, eggs: number, animals: number) =>
      `${number(adults)} snails × ${number(layings)} layings × ${number(eggs)} eggs = ${number(animals)} snails a year on paper.`,
    room: (low: number, high: number, g: number) =>
      `This floor carries ${number(low)} to ${number(high)} snails of ${measure(g, "g")}.`,
    floor:
      "So the sum cannot come true here: crowded snails grow slowly, lay little and die. Eggs that do not hatch and young that die are left out of it too.",
    published: (low: number, high: number) =>
      `Published for this species: ${number(low)} to ${number(high)} eggs a year.`,
    unsourced: "A claim of the trade, without a source. It is not used for anything.",
  },

  how: {
    title: "How we got this",
    text: "A thousand possible lives of this unit are followed week by week: eggs hatch, animals grow, crowd, lay, die and are sold. Each draws its own figures from the spans below.",
    formula:
      "Crowding x = weight of all animals ÷ (what a square metre carries × floor). Above 1, growth, laying and hatching fall as x^−θ and deaths rise as x^φ.",
    fishFormula: "A fish gains its weight × ration ÷ feed conversion each day.",
    facts: (area: string, putIn: number) => `Floor ${area} m², ${number(putIn)} animals put in.`,
    figure: "Figure",
    low: "Low",
    likely: "Likely",
    high: "High",
    source: "Rests on",
    none: "not shown here",
  },
  inputs: {
    hatchling_weight: "Weight at hatching",
    grown_weight: "Weight at 24 months",
    eggs_year: "Eggs an adult lays in a year",
    clutch_eggs: "Eggs in a clutch",
    incubation_days: "Days to hatching",
    hatch: "Eggs that hatch",
    hatchling_loss: "Deaths in the first month",
    juvenile_loss: "Deaths of young, a month",
    adult_loss: "Deaths of adults, a month",
    unseen_loss: "Lost without a body, a month",
    maturity_months: "Age at first eggs",
    capacity_kg_m2: "What a square metre carries",
    theta: "Power θ of crowding on growth",
    phi: "Power φ of crowding on deaths",
    weight_cv: "Spread of single weights",
    dry_feed: "Dry feed, a day",
    fresh_feed: "Leaves and fruit, a day",
    calcium_of_dry_feed: "Shell powder, of the dry feed",
    fcr: "Feed for a kilo of gain",
    survival: "Alive after 185 days",
    ration: "Ration, a day",
  } as Record<string, string>,
  measures: {
    eggs: (v: number) => number(v),
    days: (v: number) => measure(v, "days"),
    share: (v: number) => percent(100 * v, 1),
    "share-a-month": (v: number) => percent(100 * v, 1),
    "share-a-day": (v: number) => percent(100 * v, 1),
    months: (v: number) => measure(v, "months"),
    "kg/m2": (v: number) => measure(v, "kg/m²", 2),
    g: (v: number) => measure(v, "g", 1),
    power: (v: number) => number(v, 2),
    "kg/kg": (v: number) => measure(v, "kg", 2),
  } as Record<string, (v: number) => string>,
  grades: {
    T: "published, the source itself was read",
    A: "published, its abstract or official page was read",
    B: "from a blog, the press or an advice sheet",
    D: "worked out from published figures",
    "common-practice": "common practice, no source",
    constructed: "calculated, no direct source",
    "from-memory": "our estimate, not yet checked",
  } as Record<string, string>,

  whatIf: {
    title: "Change an assumption",
    hint: "A what-if stands beside the plan and is not kept.",
    market: "Sell from",
    every: "Sell every",
    days: "days",
    parents: "Keep as parents",
    thin: "Move animals out whenever the unit is full",
    price: "Price of an animal",
    month: "Costs a month",
    once: "Costs once",
    currency: "in the firm’s currency",
    see: "See what follows",
    back: "Back to the plan",
    changed: "This is a what-if, not the plan.",
    assumed: (g: number, every: number, parents: number) =>
      `Assumed: ${every > 0 ? `everything from ${measure(g, "g")} on is sold every ${measure(every, "days")}` : "nothing is sold"}${parents > 0 ? `; ${number(parents)} adults stay as parents` : ""}.`,
    money: (low: string, likely: string, high: string) =>
      `Left over by these prices in the whole time shown: about ${likely}, between ${low} and ${high}. An estimate, not a promise of income.`,
  },
  problems: {} as Record<string, string>,
};

/** Values read the values of a reason. */
export interface Values {
  n: (key: string) => number;
  s: (key: string) => string;
}

export type ProjectionMessages = typeof en;
export default en;
