import type { VisitLine } from "../../api/types";

/** A Day of visits, by who goes. */
export interface Day {
  on: string;
  officers: { id: string; name: string; stops: VisitLine[] }[];
}

/** daysOf groups visits by their day and by who goes, days in order and people by name. */
export function daysOf(visits: readonly VisitLine[]): Day[] {
  const days = new Map<string, Map<string, VisitLine[]>>();
  for (const visit of visits) {
    const officers = days.get(visit.on) ?? new Map<string, VisitLine[]>();
    officers.set(visit.officer_id, [...(officers.get(visit.officer_id) ?? []), visit]);
    days.set(visit.on, officers);
  }
  return [...days.entries()]
    .sort(([a], [b]) => a.localeCompare(b))
    .map(([on, officers]) => ({
      on,
      officers: [...officers.entries()]
        .map(([id, stops]) => ({ id, name: stops[0]?.officer ?? "", stops }))
        .sort((a, b) => a.name.localeCompare(b.name)),
    }));
}
