import { recall, remember } from "../../offline/kept";
import { type Column, changed } from "./sheet";

type Draft = Record<string, Pick<Column, "id" | "before" | "typed" | "sure">>;

const keyOf = (unit: string, from: string) => `desk.daybook ${unit} ${from}`;

/** keepDraft keeps on the disk what was typed and is not saved, with the ids under which it may have been sent. */
export function keepDraft(unit: string, from: string, columns: readonly Column[]): Promise<void> {
  const open = columns
    .filter(changed)
    .map(({ on, id, before, typed, sure }) => [on, { id, before, typed, sure }]);
  return remember(keyOf(unit, from), Object.fromEntries(open)).catch(() => undefined);
}

/**
 * withDraft puts back what was typed and not saved. What has been saved since,
 * by that very sending or by somebody else, stays as it is on record.
 */
export async function withDraft(unit: string, from: string, columns: readonly Column[]): Promise<Column[]> {
  const draft = (await recall<Draft>(keyOf(unit, from)).catch(() => undefined))?.body ?? {};
  return columns.map((c) => {
    const kept = draft[c.on];
    return kept && kept.before === c.before ? { ...c, ...kept } : c;
  });
}
