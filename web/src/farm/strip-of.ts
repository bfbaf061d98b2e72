import type { CycleOutlook } from "../api/types";
import type { Strip, StripMilestone } from "../strip/data";
import type { Names } from "./reason";

/** stripOf puts what the sweep worked out for a cycle into the form that the strip draws. */
export function stripOf(outlook: CycleOutlook, harvest: string, names: Names): Strip {
  return {
    start: outlook.started_on,
    today: outlook.on,
    harvest,
    milestones: outlook.milestones.map((m) => milestoneOf(m, names)),
    ...(outlook.harvest.p50 ? { slip: outlook.slip.total } : {}),
  };
}

function milestoneOf(m: CycleOutlook["milestones"][number], names: Names): StripMilestone {
  return {
    key: m.key,
    name: names("milestone", m.key) ?? m.key.replace(/-/g, " "),
    state: m.state as StripMilestone["state"],
    done_on: m.done_on,
    window: m.target ? { earliest: m.earliest, target: m.target, latest: m.latest } : undefined,
    expected: m.p50 ? { p10: m.p10, p50: m.p50, p90: m.p90 } : undefined,
  };
}

/**
 * harvestKey is the milestone that counts as the first harvest; before the
 * pack has been brought, the one that is most likely on the harvest's day.
 */
export function harvestKey(outlook: CycleOutlook, pack: { harvest: string } | undefined): string {
  if (pack) return pack.harvest;
  return outlook.milestones.find((m) => m.p50 === outlook.harvest.p50)?.key ?? "";
}
