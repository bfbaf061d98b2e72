import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { api } from "../api/client";

const names = signal<Readonly<Record<string, string>>>({});
const asked = new Set<string>();

/** keepNames puts names of people where screens look for them. */
export function keepNames(people: readonly { id: string; name: string }[]): void {
  if (people.length === 0) return;
  names.value = { ...names.peek(), ...Object.fromEntries(people.map((p) => [p.id, p.name])) };
}

/** personName is the name of a person whose id stands in a record; "" until it is known. */
export function personName(id: string | undefined): string {
  return (id && names.value[id]) || "";
}

/** usePeople brings the names of people by their ids, each once; who may not be read stays without a name. */
export function usePeople(ids: readonly (string | undefined)[]): void {
  const wanted = [...new Set(ids)].filter((id): id is string => !!id).sort();
  useEffect(() => {
    for (const id of wanted) {
      if (asked.has(id) || names.peek()[id]) continue;
      asked.add(id);
      api
        .get("/api/people/{id}", { path: { id } })
        .then(({ body }) => keepNames([body]))
        .catch(() => undefined);
    }
  }, [wanted.join(" ")]);
}
