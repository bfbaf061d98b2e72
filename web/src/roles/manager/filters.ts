import { useLocation } from "preact-iso";

/**
 * useFilters keeps what a list is filtered by in the address, so that a list
 * can be sent to somebody and the way back leads to it.
 */
export function useFilters<Name extends string>(
  names: readonly Name[],
): [Record<Name, string>, (change: Partial<Record<Name, string>>) => void] {
  const { path, query, route } = useLocation();
  const filters = Object.fromEntries(names.map((name) => [name, query[name] ?? ""])) as Record<Name, string>;
  const set = (change: Partial<Record<Name, string>>) =>
    route(addressOf(path, { ...filters, ...change }), true);
  return [filters, set];
}

/** addressOf writes filters behind a path; empty ones are left out. */
export function addressOf(path: string, filters: Record<string, string | undefined>): string {
  const params = new URLSearchParams();
  for (const [name, value] of Object.entries(filters)) if (value) params.set(name, value);
  const text = params.toString();
  return text ? `${path}?${text}` : path;
}
