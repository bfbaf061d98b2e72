// Our own drawings: a few strokes each, put together from parts that come
// again, so that all of them weigh little and look alike.

export const shell = "M14 37a14 14 0 1 1 20 0zM18 31a7 7 0 1 1 10 4q-4 1-4-3";
export const fish = "M5 25q13-13 28 0q-15 13-28 0zM33 25l9-8v16zM12 23h.1M6 27l-3 5M8 28l-1 6";
export const deadFish = "M5 27q13 13 28 0q-15-13-28 0zM33 27l9-8v16zM10 25l4 4M14 25l-4 4";
export const eggs = "M16 20q7 7 7 13a7 7 0 0 1-14 0q0-6 7-13zM33 20q7 7 7 13a7 7 0 0 1-14 0q0-6 7-13z";
export const house = "M6 24L24 8l18 16M11 21v20h26V21";
export const bowl = "M7 28h34q-2 12-17 12T7 28z";
export const no = "M8 8l32 32";
export const cross = "M33 5l10 10M43 5L33 15";

/** The pictures of what one can do, by name. */
export const doing = {
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

export type Doing = keyof typeof doing;

/** Drawing is one path in the hand of all pictures. */
export function Drawing({ d }: { d: string }) {
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
