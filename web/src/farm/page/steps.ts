import type { CyclePage, Pack } from "../../api/types";
import type { Names } from "../reason";

/** A Step is a milestone of a cycle as the page lists it: plan, forecast, evidence and go-ahead side by side. */
export interface Step {
  key: string;
  name: string;
  state: "done" | "implied" | "open" | "ahead";
  window: { earliest: string; target: string; latest: string } | null;
  expected: { p50: string; p90: string } | null;
  doneOn: string;
  grade: string;
  doneBy: string;
  /** What the duration before it rests on, a grade of the pack; "" when not known. */
  basis: string;
  goAhead: GoAhead | null;
}

/** A GoAhead with what it still lacks. */
export interface GoAhead {
  key: string;
  name: string;
  missing: Missing[];
}

/** Missing is one thing that a go-ahead lacks. */
export interface Missing {
  code: string;
  thing: string;
}

/**
 * stepsOf lists the milestones of a cycle in the programme's order. A mark
 * stands before the forecast does: what was marked since the last sweep is
 * done already.
 */
export function stepsOf(cycle: CyclePage, pack: Pack | undefined, names: Names): Step[] {
  const rows = new Map(cycle.milestones.map((m) => [m.key, m]));
  const outlook = new Map(cycle.outlook?.milestones.map((m) => [m.key, m]) ?? []);
  return orderOf(cycle, pack).map((key) => {
    const row = rows.get(key);
    const ahead = outlook.get(key);
    const known = row ?? ahead;
    const doneOn = row?.done_on || (row ? "" : (ahead?.done_on ?? ""));
    const state = doneOn ? "done" : stateOf(ahead?.state, row !== undefined);
    return {
      key,
      name: names("milestone", key) ?? key.replace(/-/g, " "),
      state,
      window: known?.target ? { earliest: known.earliest, target: known.target, latest: known.latest } : null,
      expected:
        state !== "done" && state !== "implied" && ahead?.p50 ? { p50: ahead.p50, p90: ahead.p90 } : null,
      doneOn,
      grade: row?.grade ?? "",
      doneBy: row?.done_by ?? "",
      basis: pack?.milestones.find((m) => m.key === key)?.days.grade ?? "",
      goAhead: goAheadOf(cycle, key, names),
    };
  });
}

// A mark that was taken back since the last sweep is no longer done.
function stateOf(swept: string | undefined, marked: boolean): Step["state"] {
  if (swept === "done") return marked ? "open" : "done";
  return (swept as Step["state"] | undefined) ?? "ahead";
}

function orderOf(cycle: CyclePage, pack: Pack | undefined): string[] {
  const has = new Set([...cycle.milestones, ...(cycle.outlook?.milestones ?? [])].map((m) => m.key));
  const inPack = pack?.milestones.map((m) => m.key).filter((key) => has.has(key)) ?? [];
  return [...new Set([...inPack, ...has])];
}

function goAheadOf(cycle: CyclePage, milestone: string, names: Names): GoAhead | null {
  const found = cycle.go_aheads?.find((g) => g.milestone === milestone);
  if (!found) return null;
  return { key: found.key, name: names("go-ahead", found.key) ?? found.key, missing: found.missing };
}

/** nextStep is the milestone that one can mark now: the first that is open, else the first ahead. */
export function nextStep(steps: readonly Step[]): Step | undefined {
  return steps.find((s) => s.state === "open") ?? steps.find((s) => s.state === "ahead");
}
