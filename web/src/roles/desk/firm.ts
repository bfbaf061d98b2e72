import { computed, signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { api } from "../../api/client";
import { person } from "../../api/session";
import type { Branch, Person } from "../../api/types";
import { bringPack } from "../../farm/packs";

/** Firm is what the desk knows of its own house: branches with their zones, and colleagues. */
export interface Firm {
  branches: readonly Branch[];
  staff: readonly Person[];
}

const nothing: Firm = { branches: [], staff: [] };
const kept = signal<{ owner: string; firm: Firm } | null>(null);
const staffRoles = ["advisor", "field-officer", "manager", "administrator"] as const;

let underWay: Promise<void> | undefined;

/** firm is the house of the person signed in; empty until it has been read. */
export const firm = computed(() =>
  kept.value && kept.value.owner === person.value?.id ? kept.value.firm : nothing,
);

/** keepFirm puts a house where screens look for it. */
export function keepFirm(owner: string, house: Firm): void {
  kept.value = { owner, firm: house };
}

async function read(owner: string): Promise<void> {
  const [branches, packs, ...people] = await Promise.all([
    api.get("/api/branches"),
    api.get("/api/packs"),
    ...staffRoles.map((role) => api.get("/api/people", { query: { role, limit: 200 } })),
  ]);
  const staff = new Map(people.flatMap((page) => page.body.items).map((p) => [p.id, p]));
  keepFirm(owner, { branches: branches.body.items, staff: [...staff.values()] });
  await Promise.all(packs.body.items.map((pack) => bringPack(pack.enterprise)));
}

/**
 * useFirm reads the house once for the person signed in. Without it names and
 * zones are missing, so a failure is no reason to show nothing.
 */
export function useFirm(): Firm {
  const owner = person.value?.id;
  useEffect(() => {
    if (!owner || underWay || kept.peek()?.owner === owner) return;
    underWay = read(owner)
      .catch(() => undefined)
      .finally(() => {
        underWay = undefined;
      });
  }, [owner]);
  return firm.value;
}

/** zoneOf is the time zone of a branch; undefined (the device's own) until it is known. */
export function zoneOf(branchId: string): string | undefined {
  return firm.value.branches.find((b) => b.id === branchId)?.time_zone;
}

/** staffName is what a colleague is called; "" for anybody else. */
export function staffName(personId: string): string {
  return firm.value.staff.find((p) => p.id === personId)?.name ?? "";
}

/** colleaguesOf are those who may hold a ticket of a branch, by name. */
export function colleaguesOf(branchId: string, staff: readonly Person[]): Person[] {
  const works = (p: Person) =>
    p.active &&
    p.grants?.some(
      (g) => (staffRoles as readonly string[]).includes(g.role) && (!g.branch_id || g.branch_id === branchId),
    );
  return staff.filter(works).sort((a, b) => a.name.localeCompare(b.name));
}
