import { api } from "../../api/client";
import { useRead } from "../../api/read";
import type { Person } from "../../api/types";

/** serves says whether a person works for a branch: a grant without a branch holds in all. */
export function serves(person: Person, branchId: string): boolean {
  return (person.grants ?? []).some((g) => g.branch_id === "" || g.branch_id === branchId);
}

/**
 * useOfficers are those who may go to a farm of a branch: its field officers,
 * and where it has none, its advisors and managers.
 */
export function useOfficers(branchId: string): readonly Person[] {
  const read = useRead("officers", async (signal) => {
    const asked = (["field-officer", "advisor", "manager"] as const).map(async (role) => {
      const query = { role, limit: 200 };
      const { body } = await api.get("/api/people", { query, signal });
      return body.items.filter((p) => p.active);
    });
    return Promise.all(asked);
  });
  const [officers = [], ...others] = read.value ?? [];
  const here = officers.filter((p) => serves(p, branchId));
  if (here.length > 0) return here;
  return others
    .flat()
    .filter((p, i, all) => serves(p, branchId) && all.findIndex((o) => o.id === p.id) === i);
}
