/** Held is a list as it stands still: rows in their old order with their newest content, and how many wait. */
export interface Held<Item> {
  rows: { item: Item; gone: boolean }[];
  fresh: number;
}

/** hold keeps the order of what is shown, takes the newest content of each row and counts what is new. */
export function hold<Item>(
  shown: readonly Item[],
  items: readonly Item[],
  keyOf: (item: Item) => string,
): Held<Item> {
  const newest = new Map(items.map((item) => [keyOf(item), item]));
  const known = new Set(shown.map(keyOf));
  return {
    rows: shown.map((item) => ({ item: newest.get(keyOf(item)) ?? item, gone: !newest.has(keyOf(item)) })),
    fresh: items.filter((item) => !known.has(keyOf(item))).length,
  };
}
