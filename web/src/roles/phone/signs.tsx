// The drawings of signs, which only the pages of trouble need.
import { bowl, cross, Drawing, deadFish, doing, eggs, fish, house, no, shell } from "./pictures";

const snail =
  "M5 39h27q9 0 9-9v-5l-3-6M41 25l4-5M30 39q5-6 2-13a12 12 0 1 0-21 11M15 30a6 6 0 1 1 9 4q-4 2-5-2";
const head = "M31 42v-7h4q4 0 3-6l3-2-4-7A14 14 0 1 0 14 31v11";
const egg = "M24 10q11 10 11 19a11 11 0 0 1-22 0q0-9 11-19z";
const tank = "M6 14v26h36V14";
const level = "M6 22q4.5-3 9 0t9 0t9 0t9 0";
const bang = "M39 4v9M39 18v.1";
const slow = "M28 10a9 9 0 1 1-.1 0zM28 14v5l4 2";

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
  "swollen-foot": `${snail}M11 39a7 5 0 0 0 14 0M16 41v.1M20 42v.1`,
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
  "yellow-liver": `${fish}M17 23q4-3 8 0q1 5-4 6q-5-1-4-6zM19 25l4 2`,
  "very-green": `${tank}M6 20h36M12 36q0-8 8-9 1 9-8 9zM26 35q0-9 10-10 0 10-10 10z`,
  escaped: "M4 20v22h22V20" + "M22 14q8-10 17-1-9 9-17 1zM39 13l6-5v10zM14 24q1-8 7-9",
  "tank-leaks": `${tank + level}M42 32h3M45 38v.1M43 43v.1M38 28l-4 4 5 3-4 5`,
};

/** SignPicture shows a sign; one that we have no drawing for (a pack of the firm's own) gets the warning. */
export function SignPicture({ sign }: { sign: string }) {
  return <Drawing d={signs[sign] ?? doing.trouble} />;
}

/** pictured are the signs that have a drawing. */
export const pictured = Object.keys(signs);

/** drawings are all of them, to look at. */
export const drawings: Record<string, string> = { ...doing, ...signs };
