// Our own drawings: a few strokes each, put together from parts that come
// again, so that all of them weigh little and look alike.

const snail =
  "M5 39h27q9 0 9-9v-5l-3-6M41 25l4-5M30 39q5-6 2-13a12 12 0 1 0-21 11M15 30a6 6 0 1 1 9 4q-4 2-5-2";
const shell = "M14 37a14 14 0 1 1 20 0zM18 31a7 7 0 1 1 10 4q-4 1-4-3";
const fish = "M5 25q13-13 28 0q-15 13-28 0zM33 25l9-8v16zM12 23h.1M6 27l-3 5M8 28l-1 6";
const deadFish = "M5 27q13 13 28 0q-15-13-28 0zM33 27l9-8v16zM10 25l4 4M14 25l-4 4";
const head = "M31 42v-7h4q4 0 3-6l3-2-4-7A14 14 0 1 0 14 31v11";
const egg = "M24 10q11 10 11 19a11 11 0 0 1-22 0q0-9 11-19z";
const eggs = "M16 20q7 7 7 13a7 7 0 0 1-14 0q0-6 7-13zM33 20q7 7 7 13a7 7 0 0 1-14 0q0-6 7-13z";
const tank = "M6 14v26h36V14";
const level = "M6 22q4.5-3 9 0t9 0t9 0t9 0";
const house = "M6 24L24 8l18 16M11 21v20h26V21";
const bowl = "M7 28h34q-2 12-17 12T7 28z";
const no = "M8 8l32 32";
const cross = "M33 5l10 10M43 5L33 15";
const bang = "M39 4v9M39 18v.1";
const slow = "M28 10a9 9 0 1 1-.1 0zM28 14v5l4 2";

/** The pictures of what one can do, by name. */
const doing = {
  well: "M6 26l11 11L42 10",
  book: "M9 7h26a4 4 0 0 1 4 4v30H13a4 4 0 0 1-4-4zM9 37a4 4 0 0 1 4-4h26M17 15h14M17 22h10",
  cannot: "M24 6a18 18 0 1 1-.1 0zM11 37L37 11",
  trouble: "M24 5L45 41H3zM24 17v12M24 35v.1",
  call: "M13 6l7 2 2 9-5 4q3 7 10 10l4-5 9 2 2 7q-1 7-7 7Q9 38 6 13q0-6 7-7z",
  list: "M7 11l3 3 6-6M7 24l3 3 6-6M7 37l3 3 6-6M22 11h20M22 25h20M22 38h20",
  open: "M10 10h28v28H10z",
  step: "M4 36h40M21 8a3 3 0 0 1 6 0v26l-3 8-3-8z",
  learn: "M24 12q-8-6-18-4v28q10-2 18 4 8-6 18-4V8q-10-2-18 4zM24 12v28",
  leaf: "M10 40Q6 12 40 8q2 32-26 28M10 40q6-14 18-20",
  weigh: "M24 6v36M12 42h24M8 14h32M8 14L3 28h10zM40 14l-5 14h10z",
  reports: "M6 8h36v24H22l-9 9v-9H6zM14 17h20M14 24h12",
  plan: "M4 24h40M10 17v14M20 17v14M30 14h6v20h-6z",
  sent: "M5 24L43 6 32 42l-8-14zM24 28L43 6",
  feed: `${bowl}M15 22l3-6M24 22v-8M33 22l-3-6${no}`,
  tap: `M6 16h22q8 0 8 10v2h-8v-2M14 16v-6M8 10h12M32 34v.1M32 40v.1${no}`,
  rain: "M12 24a8 8 0 0 1 2-16 11 11 0 0 1 21 3 7 7 0 0 1 0 13zM14 31l-2 8M24 31l-2 8M34 31l-2 8",
  ill: "M4 38V20M4 32h40v6M14 26a4 4 0 1 1-.1 0zM22 32v-6h15q7 0 7 6M30 6v10M25 11h10",
  dead: `${shell + cross}M6 43h36`,
  "dead-fish": `${deadFish}M37 5l8 8M45 5l-8 8`,
  bowl: `${bowl}M15 22l3-6M24 22v-8M33 22l-3-6`,
  drop: "M24 6q13 16 13 24a13 13 0 0 1-26 0q0-8 13-24zM17 31a7 7 0 0 0 6 6",
  eggs,
  meter: "M19 8a5 5 0 0 1 10 0v20a9 9 0 1 1-10 0zM24 16v18M34 10h6M34 17h6M34 24h6",
  basket: "M5 20h38l-5 21H10zM14 20L22 6M34 20L26 6M17 26v9M24 26v9M31 26v9",
  medicine: "M17 5h14v7H17zM14 12h20v31H14zM24 20v14M17 27h14",
  broom: "M41 5L24 24M17 22l9 9q-3 9-16 12l-5-2 3-5Q11 26 17 22zM12 32l7 7",
  gap: `${house}M18 41v-9h12v9M24 16v8M20 20h8`,
  sort: "M8 38a5 5 0 1 1 .1 0zM23 38a8 8 0 1 1 .1 0zM40 38a10 10 0 0 1 0-20M4 43h40M14 8h20M29 4l5 4-5 4",
  text: "M6 8h36v24H22l-9 9v-9H6zM14 20h.1M24 20h.1M34 20h.1",
  other: "M10 22a3 3 0 1 1-.1 0zM24 22a3 3 0 1 1-.1 0zM38 22a3 3 0 1 1-.1 0z",
};

/** The pictures of signs, by the sign's key in its pack. */
const signs: Record<string, string> = {
  "electric-shock": "M26 3L12 26h10l-4 19 18-25H25z",
  "person-in-tank": `${tank + level}M24 8a4 4 0 1 1-.1 0zM24 17v12M15 12l9 8 9-8`,
  bite: "M5 30q5-9 11 0t11 0 11 0q5-6 5-13a4 4 0 1 0-8 1M43 17l4-4M39 13h.1",
  "stiff-neck-headache": `${head}M21 12l-4 7h6l-4 7`,
  "poison-swallowed": "M19 5h10v8l6 8v22H13V21l6-8zM19 13h10M20 27l8 8M28 27l-8 8",
  threatened: "M14 10a4 4 0 1 1-.1 0zM14 19v22M14 24l12-4 10-8M36 12l6-6M34 20a4 4 0 1 1-.1 0zM34 29v13",
  "many-sudden-deaths":
    "M4 26a8 8 0 1 1 16 0zM28 26a8 8 0 1 1 16 0zM15 42a9 9 0 1 1 18 0zM7 4l6 6M13 4L7 10M35 4l6 6M41 4l-6 6",
  "mass-death":
    "M3 14q8 8 17 0-9-8-17 0zM20 14l6-5v10zM18 26q8 8 17 0-9-8-17 0zM35 26l6-5v10zM5 38q8 8 17 0-9-8-17 0zM22 38l6-5v10z",
  frothing: `${snail}M5 22a3 3 0 1 1-.1 0zM38 6a3 3 0 1 1-.1 0zM43 12a2 2 0 1 1-.1 0zM32 11a2 2 0 1 1-.1 0z`,
  "rats-overnight":
    "M10 38q-2-16 14-16 9 0 15 9l5 3-6 4zM10 38q-6 1-5 7M31 24a4 4 0 1 1 5 4M37 32h.1M14 4a7 7 0 1 0 7 11 7 7 0 0 1-7-11z",
  "no-water": `M6 16h22q8 0 8 10v2h-8v-2M14 16v-6M8 10h12${no}`,
  maggots: "M8 34q3-6 6 0t6 0 6 0M24 18q3-6 6 0t6 0 6 0M26 40q3-6 6 0t6 0M6 18q3-6 6 0t6 0",
  "standing-water": `${house}M4 44q4-3 8 0t8 0 8 0 8 0 8 0M14 34q3-2 5 0t5 0 5 0 5 0`,
  "dead-single": shell + cross,
  sealed: `${shell}M12 37h24M14 42h20`,
  escaping:
    "M6 44V24h36v20M14 44V34M24 44V34M34 44V34M12 24h18q5 0 5-5v-3l-2-4M35 16l4-4M14 24q-2-3-1-6a8 8 0 1 1 14 6",
  "not-eating": `${bowl}M14 24a10 10 0 0 1 20 0${no}`,
  mites: `${snail}M14 22h.1M22 22h.1M18 26h.1M26 29h.1M12 29h.1`,
  "thin-shells": `${shell}M24 9l-3 7 5 3-4 6`,
  "slow-growth": `M5 39h12q4 0 4-5v-3M16 39q3-3 1-6a6 6 0 1 0-10 4${slow}`,
  "eggs-discoloured": `${egg}M20 26h.1M27 24h.1M24 32h.1M29 31h.1M19 33h.1`,
  "eggs-eaten": "M12 26l5 5 4-6 4 6 4-6 4 5 3-4q1 2 1 4a12 12 0 0 1-25 0zM18 16l3-4M30 18l4-4M25 12V7",
  "eggs-not-hatching": `${eggs}M24 4a6 6 0 1 1-.1 0zM24 7v3l2 2`,
  ants: "M12 24a5 5 0 1 1-.1 0zM22 26a4 4 0 1 1-.1 0zM35 23a8 6 0 1 1-.1 0zM9 24q-3-7-6-8M14 24q1-6 4-9M21 34l-6 9M23 34v9M26 33l8 10M20 27l-2-9M24 27l3-10",
  "house-damaged": `${house}M24 8l-4 9 7 5-5 8 5 11`,
  gasping:
    tank +
    "M6 19h11M31 19h11M24 17q8 7 0 17-8-10 0-17zM24 34l-5 6h10zM24 22v.1M20 8a2 2 0 1 1-.1 0zM27 4a3 3 0 1 1-.1 0z",
  "water-black": `${tank}M6 22h36M10 28h28M10 34h28M12 25h26M12 31h26M12 37h26`,
  "dark-erratic": `${fish}M8 40q5-6 10 0t10 0 10-3M34 32l4 5-6 2`,
  "brown-gills": `${fish}M19 18q5 7 0 14M22 19q4 6 0 12M25 20q3 5 0 10${bang}`,
  "hanging-upright": `${tank + level}M24 24q7 7 0 15-7-8 0-15zM24 39l-4 5h8zM24 27h.1`,
  sores: `${fish}M20 22a2 2 0 1 1-.1 0zM26 25a2 2 0 1 1-.1 0zM18 27a1 1 0 1 1-.1 0z`,
  "deaths-every-day": `${deadFish}M6 6h6v6H6zM18 6h6v6h-6zM30 6h6v6h-6z`,
  "crack-head": `${fish}M9 21l4 2-2 3 5 1${bang}`,
  "belly-burst": "M5 22q13-12 28 0q-7 6-11 6l-2 6-3-3-3 4-1-7Q8 27 5 22zM33 22l9-8v16zM12 20h.1",
  flashing: `${fish}M4 42h40M20 36l4-4M26 38l5-5M14 36l2-3`,
  cotton: `${fish}M18 16a3 3 0 1 1-.1 0zM23 14a3 3 0 1 1-.1 0zM28 17a3 3 0 1 1-.1 0z`,
  "off-feed": `${fish}M10 8h.1M18 6h.1M26 9h.1M34 7h.1M10 40h.1M20 42h.1M30 40h.1`,
  vanishing: `${tank + level}M17 27q2-4 7-4t7 4q0 4-7 6M24 38v.1`,
  "very-green": `${tank}M6 20h36M12 36q0-8 8-9 1 9-8 9zM26 35q0-9 10-10 0 10-10 10z`,
  escaped: "M4 20v22h22V20" + "M22 14q8-10 17-1-9 9-17 1zM39 13l6-5v10zM14 24q1-8 7-9",
  "tank-leaks": `${tank + level}M42 32h3M45 38v.1M43 43v.1M38 28l-4 4 5 3-4 5`,
};

export type Doing = keyof typeof doing;

function Drawing({ d }: { d: string }) {
  return (
    <svg class="picture" viewBox="0 0 48 48" aria-hidden="true">
      <path d={d} />
    </svg>
  );
}

/** Picture shows what can be done; its words stand beside it. */
export function Picture({ of }: { of: Doing }) {
  return <Drawing d={doing[of]} />;
}

/** NamedPicture shows a drawing that a pack names; one that we do not have is a tick box. */
export function NamedPicture({ of }: { of: string }) {
  return <Drawing d={(doing as Record<string, string>)[of] ?? doing.open} />;
}

/** SignPicture shows a sign; one that we have no drawing for (a pack of the firm's own) gets the warning. */
export function SignPicture({ sign }: { sign: string }) {
  return <Drawing d={signs[sign] ?? doing.trouble} />;
}

/** pictured are the signs that have a drawing. */
export const pictured = Object.keys(signs);

/** drawings are all of them, to look at. */
export const drawings: Record<string, string> = { ...doing, ...signs };
