import type { components } from "../../api/api.gen";

type Schemas = components["schemas"];
export type SentFarm = Schemas["TodayFarm"];
export type BookPack = Schemas["BookPack"];
export type BookField = Schemas["BookField"];
export type BookGroup = Schemas["BookGroup"];
export type TodayMark = Schemas["TodayMark"];

/** An item of a checklist with the mark that stands. */
export type TodayItem = Schemas["BookItem"] & { mark?: TodayMark };

/** A tick of the strip with its name. */
export type TodayTick = Schemas["TodayTick"] & { name: string };

/** A checklist with its words. */
export type TodayList = Schemas["TodayList"] & { name: string; milestone: string; items: TodayItem[] };

/** Work that comes again, with its words. */
export type TodayWork = Schemas["TodayWork"] & Schemas["BookWork"];

/** A unit as its screens show it: what the server said, in the words of the book. */
export interface TodayUnit
  extends Omit<Schemas["TodayUnit"], "strip" | "milestones" | "lists" | "work" | "marks"> {
  strip?: Omit<Schemas["TodayStrip"], "ticks"> & { ticks: TodayTick[] };
  milestones: (Schemas["TodayMilestone"] & { name: string; note?: string })[];
  checklists: TodayList[];
  work: TodayWork[];
  groups: BookGroup[];
  weighing: Schemas["BookWeighing"];
}

export interface TodayFarm extends Omit<SentFarm, "units"> {
  units: TodayUnit[];
}

const noWeighing = { animals: 10, bounds: {} };

/**
 * compose puts the words of the book into what the server said. Where the book
 * does not have a word, as with a reading kept by an older version, the key
 * stands for it, and what cannot be done without its words is left out.
 */
export function compose(farm: SentFarm, book: readonly BookPack[]): TodayFarm {
  return {
    ...farm,
    days: farm.days ?? [],
    requests: farm.requests ?? [],
    units: farm.units.map((u) => withWords(u, packOf(book, u.enterprise))),
  };
}

const packOf = (book: readonly BookPack[], enterprise: string) =>
  book.find((p) => p.enterprise === enterprise);

function withWords(unit: Schemas["TodayUnit"], pack: BookPack | undefined): TodayUnit {
  const { strip, milestones, lists, work, marks = {}, ...rest } = unit;
  const named = <T extends { key: string }>(one: T) => {
    const said = pack?.milestones.find((m) => m.key === one.key);
    return { ...one, ...(said ?? { name: one.key.replace(/-/g, " ") }) };
  };
  return {
    ...rest,
    ...(strip ? { strip: { ...strip, ticks: strip.ticks.map(named) } } : {}),
    milestones: (milestones ?? []).map(named),
    checklists: joined(lists, pack?.lists).map((list) => ({ ...list, items: withMarks(list.items, marks) })),
    work: joined(work, pack?.work),
    groups: pack?.groups ?? [],
    weighing: pack?.weighing ?? noWeighing,
  };
}

// What the server named, with what the book says of it; what it does not know is left out.
function joined<A extends { key: string }, B extends { key: string }>(
  said: readonly A[] | undefined,
  words: readonly B[] | undefined,
): (A & B)[] {
  return (said ?? []).flatMap((one) => {
    const found = words?.find((w) => w.key === one.key);
    return found ? [{ ...found, ...one }] : [];
  });
}

function withMarks(items: readonly Schemas["BookItem"][], marks: Record<string, TodayMark>): TodayItem[] {
  return items.map((item) => {
    const mark = marks[item.key];
    return mark ? { ...item, mark } : item;
  });
}
