import type { CyclePage, Pack } from "../../api/types";

/** The kinds of readings. */
export type Kind = "cover" | "weight";

/** A Look is one reading: plant cover in per cent, or the mean weight of a sample in g. */
export interface Look {
  id: string;
  on: string;
  value: number;
  /** Animals weighed and their spread; 0 where not known. */
  n: number;
  sd: number;
}

/** looksOf gives the readings of a kind, oldest first. */
export function looksOf(cycle: CyclePage, kind: Kind): Look[] {
  return cycle.readings
    .filter((r) => r.Kind === kind)
    .map((r) => ({ id: r.id, on: r.On, value: r.Value, n: r.N, sd: r.SD }))
    .sort((a, b) => (a.on < b.on ? -1 : 1));
}

/**
 * readable are the kinds that can be read on a cycle: those of a milestone
 * that is not done yet, and those that were read already.
 */
export function readable(cycle: CyclePage, pack: Pack | undefined): Kind[] {
  const done = new Set(cycle.milestones.filter((m) => m.done_on).map((m) => m.key));
  const has = new Set(cycle.milestones.map((m) => m.key));
  const open = pack?.milestones.filter((m) => m.reading && has.has(m.key) && !done.has(m.key)) ?? [];
  const kinds: readonly Kind[] = ["cover", "weight"];
  return kinds.filter(
    (kind) => open.some((m) => m.reading === kind) || cycle.readings.some((r) => r.Kind === kind),
  );
}

/** parseWeights reads weights as people write them in a row: spaces, semicolons or line breaks between, comma or point. */
export function parseWeights(text: string): { weights: number[]; bad: string } {
  const parts = text.split(/[\s;]+/).filter(Boolean);
  const weights: number[] = [];
  for (const part of parts) {
    const plain = part.replace(/,$/, "").replace(",", ".");
    const weight = /^\d+(\.\d+)?$/.test(plain) ? Number(plain) : Number.NaN;
    if (!(weight > 0)) return { weights, bad: part };
    weights.push(weight);
  }
  return { weights, bad: "" };
}
