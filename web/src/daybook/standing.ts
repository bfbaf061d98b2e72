/** One entry about a day: its id, and that of the entry it corrects. */
export interface Word {
  id: string;
  replaces?: string | undefined;
}

/**
 * standing says which words hold: of those that correct one another, the one
 * that was made last, in whatever order they came. Ids sort by their making.
 */
export function standing<W extends Word>(words: readonly W[]): W[] {
  const before = new Map(words.map((w) => [w.id, w.replaces ?? ""]));
  const last = new Map<string, W>();
  for (const word of words) {
    const root = rootOf(before, word.id);
    const known = last.get(root);
    if (!known || known.id < word.id) last.set(root, word);
  }
  return words.filter((w) => last.get(rootOf(before, w.id)) === w);
}

// The first word of a chain may be one that has not come. A ring, which no
// honest phone makes, ends at its smallest id.
function rootOf(before: ReadonlyMap<string, string>, id: string): string {
  let at = id;
  let least = id;
  for (let steps = 0; steps < before.size; steps++) {
    const to = before.get(at);
    if (!to) return at;
    at = to;
    if (to < least) least = to;
  }
  return before.get(at) ? least : at;
}
