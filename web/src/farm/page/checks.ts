import type { CyclePage, Mark, Pack, PackChecklist, PackItem } from "../../api/types";

/** A Check is one checklist item of a cycle with its latest mark. */
export interface Check {
  item: PackItem;
  mark: Mark | undefined;
  /** verified: it is so, and known well enough; weak: it is said to be so, on word alone; no: it is not so. */
  state: "verified" | "weak" | "no" | "open";
  /** A go-ahead that does not hold yet asks for it. */
  needed: boolean;
}

/** A CheckList is one list of the pack with how far it is. */
export interface CheckList {
  list: PackChecklist;
  checks: Check[];
  verified: number;
  needed: number;
}

/** checksOf gives the lists of a cycle in the pack's order; lists of milestones that this cycle's purpose does not have are left out. */
export function checksOf(cycle: CyclePage, pack: Pack): CheckList[] {
  const marks = new Map(cycle.marks.map((m) => [m.item, m]));
  const missing = new Set(
    cycle.go_aheads.flatMap((g) => g.missing.filter((m) => m.code === "item-missing").map((m) => m.thing)),
  );
  const has = new Set(cycle.milestones.map((m) => m.key));
  return pack.checklists
    .filter((list) => has.size === 0 || has.has(list.milestone))
    .map((list) => {
      const checks = list.items.map((item) => {
        const mark = marks.get(item.key);
        return { item, mark, state: stateOf(item, mark), needed: missing.has(item.key) };
      });
      return {
        list,
        checks,
        verified: checks.filter((c) => c.state === "verified").length,
        needed: checks.filter((c) => c.needed).length,
      };
    });
}

function stateOf(item: PackItem, mark: Mark | undefined): Check["state"] {
  if (!mark) return "open";
  if (mark.answer === "no") return "no";
  return suffices(item.suffices, mark.grade) ? "verified" : "weak";
}

/**
 * suffices says whether evidence of a grade is enough where `weakest` is the
 * least that is accepted: a photo and the eyes of staff are of one strength,
 * the register is somebody's word from before (as in server/app/plans.go).
 */
export function suffices(weakest: string, grade: string): boolean {
  if (weakest === "" || weakest === "word" || weakest === "register") return true;
  return grade === "photo" || grade === "staff-saw";
}
