import { api } from "../../api/client";
import { useRead } from "../../api/read";
import type { Branch } from "../../api/types";
import { FilterSelect } from "./filter-select";
import { managerWords } from "./words";

/** useBranches are the branches of the firm. */
export function useBranches(): readonly Branch[] {
  const read = useRead("branches", async (signal) => (await api.get("/api/branches", { signal })).body.items);
  return read.value ?? [];
}

/** BranchFilter chooses one branch, or all; it is not there where the firm has only one. */
export function BranchFilter({
  branches,
  value,
  onValue,
}: {
  branches: readonly Branch[];
  value: string;
  onValue: (branch: string) => void;
}) {
  const words = managerWords().filter;
  if (branches.length < 2) return null;
  return (
    <FilterSelect
      label={words.branch}
      all={words.allBranches}
      value={value}
      onValue={onValue}
      options={branches.map((b) => ({ value: b.id, label: b.name }))}
    />
  );
}
