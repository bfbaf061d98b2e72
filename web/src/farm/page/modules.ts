import type { Pack, WorkerPage } from "../../api/types";

/** Held is a module of a pack with what a person's passes say of it on a day. */
export interface Held {
  enterprise: string;
  module: Pack["modules"][number];
  state: "valid" | "lapsed" | "missing";
  /** Last day of validity, "" when never passed. */
  until: string;
  how: string;
}

/** heldModules gives every module of a pack; those that are missing or lapsed come first. */
export function heldModules(
  pack: Pack | undefined,
  enterprise: string,
  passes: WorkerPage["passes"],
  on: string,
): Held[] {
  const held = (pack?.modules ?? []).map((module): Held => {
    const mine = passes.filter((p) => p.enterprise === enterprise && p.module === module.key);
    const last = mine.reduce<(typeof mine)[number] | undefined>(
      (best, p) => (!best || p.until > best.until ? p : best),
      undefined,
    );
    const state = !last ? "missing" : last.until < on ? "lapsed" : "valid";
    return { enterprise, module, state, until: last?.until ?? "", how: last?.how ?? "" };
  });
  const rank = { lapsed: 0, missing: 1, valid: 2 };
  return held.sort((a, b) => rank[a.state] - rank[b.state]);
}
