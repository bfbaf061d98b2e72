import type { Entry as Kept } from "../../offline/entry";
import { keep } from "../../offline/outbox";
import { syncPath } from "../../offline/page";
import { uuidv7 } from "../../offline/uuid";
import { isoOf, today } from "../../time/day";

/** The data of the entries that a caretaker makes, by kind, as the API has them. */
export interface Data {
  /** The fields of the pack, beside what every daybook has. */
  day: { all_well?: boolean; note?: string; sure?: string[]; [field: string]: unknown };
  "could-not": { reason: Reason; task?: string; note?: string };
  work: { work: string; note?: string };
  request: { request: string; note?: string; media?: string[] };
  item: { item: string; answer?: Answer; value?: number; note?: string; media?: string[] };
  milestone: { milestone: string; note?: string };
  "module-read": { enterprise: string; module: string };
  answers: {
    enterprise: string;
    module: string;
    version: string;
    seed: number;
    answers: Record<string, unknown>;
    /** What the phone told the person; the server marks for itself. */
    told: boolean;
  };
  cover: { percent: number };
  weights: { weights_g: number[] } | { n: number; mean_g: number };
  /** about is the report, by its entry, to which this one adds something. */
  trouble: { sign?: string; note?: string; about?: string; media?: string[] };
  "call-me": { note?: string };
}

export type Kind = keyof Data;
export type Answer = "yes" | "no" | "not-needed";

/** Why a day's work could not be done. */
export const couldNotReasons = ["no-feed", "no-water", "rain", "ill", "other"] as const;
export type Reason = (typeof couldNotReasons)[number];

/** An entry about a farm, as it travels. */
export interface FarmEntry<K extends Kind = Kind> {
  id: string;
  farm_id: string;
  unit_id?: string;
  cycle_id?: string;
  kind: K;
  /** The day that the entry states. */
  on: string;
  device_at: string;
  /** What the outbox adds: how the entry is written, and when it was made by a clock that cannot run backwards. */
  schema?: number;
  device_seq?: number;
  hlc?: string;
  replaces?: string;
  data: Data[K];
}

/** What a screen says to make an entry; without a day it is about today. */
export interface Said<K extends Kind> {
  farm: { id: string; time_zone: string };
  kind: K;
  data: Data[K];
  /** In the person's words, for the list of what was sent. */
  what: string;
  on?: string | undefined;
  unit?: string | undefined;
  cycle?: string | undefined;
  replaces?: string | undefined;
}

/** say keeps an entry; when it comes back, the entry is on the phone's disk. */
export function say<K extends Kind>(said: Said<K>): Promise<Kept> {
  const id = uuidv7();
  const body: FarmEntry<K> = {
    id,
    farm_id: said.farm.id,
    ...(said.unit ? { unit_id: said.unit } : {}),
    ...(said.cycle ? { cycle_id: said.cycle } : {}),
    ...(said.replaces ? { replaces: said.replaces } : {}),
    kind: said.kind,
    on: said.on ?? todayOf(said.farm),
    device_at: new Date().toISOString(),
    data: said.data,
  };
  return keep({ path: syncPath, body, what: said.what, id });
}

/** todayOf is the day that it is on a farm, by the phone's clock. */
export function todayOf(farm: { time_zone: string }): string {
  return isoOf(today(farm.time_zone));
}

/** farmEntryOf is what a kept entry says of a farm, undefined where it is something else. */
export function farmEntryOf(kept: Kept): FarmEntry | undefined {
  return kept.path === syncPath ? (kept.body as FarmEntry) : undefined;
}
