import { useRef } from "preact/hooks";
import { api } from "../../api/client";
import { Problem } from "../../api/problem";
import type { EntryBody } from "../../api/types";
import { uuidv7 } from "../../offline/uuid";
import { useFarm } from "./context";

/** The longest note that the server takes, in characters with room for accents. */
export const longestNote = 2000;

/** An entry as a form makes it; its id is given here. */
export type NewEntry = Omit<EntryBody, "id">;

/**
 * useEntry sends an entry about the page's farm. The same content sent again,
 * after an answer that was lost, goes under the same id and is kept once.
 */
export function useEntry(): (entry: NewEntry) => Promise<void> {
  const { farm, changed } = useFarm();
  const sent = useRef<{ content: string; id: string }>();
  return async (entry) => {
    const content = JSON.stringify(entry);
    if (sent.current?.content !== content) sent.current = { content, id: uuidv7() };
    const { id } = sent.current;
    await api.post("/api/farms/{id}/entries", { path: { id: farm.id }, body: { id, ...entry }, key: id });
    changed();
  };
}

/** emptyField is the problem of a field that has to be filled in before anything is sent. */
export function emptyField(field: string): Problem {
  return new Problem(422, "entry-refused", "", [{ path: `data.${field}`, code: "required", text: "" }]);
}
