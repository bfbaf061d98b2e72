import type { FarmMessages } from "./en";
import { type Names, type Reason, sayReason } from "./reason";
import { farmWords } from "./words";

/**
 * Told are the reasons of a standing or a ticket in words, the first ones to
 * read apart from the rest. A milestone that is past its latest date drags all
 * later ones along: they are told as one number.
 */
export interface Told {
  first: string;
  rest: string[];
}

/** tellReasons puts reasons into sentences in the order in which they matter. */
export function tellReasons(
  reasons: readonly Reason[],
  names?: Names,
  words: FarmMessages = farmWords(),
): Told {
  const late = reasons.filter((r) => r.code === "milestone-past-latest");
  const dragged = new Set(late.slice(1));
  const kept = reasons.filter((r) => !dragged.has(r));
  const said = kept.map((r) => sayReason(r, names, words));
  const at = late[0] ? kept.indexOf(late[0]) : -1;
  if (at >= 0 && dragged.size > 0) said[at] = `${said[at]} ${words.andLater(dragged.size)}`;
  return { first: said[0] ?? "", rest: said.slice(1) };
}
