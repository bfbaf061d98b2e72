import { useEffect, useRef, useState } from "preact/hooks";
import { api } from "../../../api/client";
import type { Hit } from "../server";
import { distinct } from "./hits";

/** Found is what a text found; `for` is the text that was asked for, which may not be the one typed by now. */
export interface Found {
  for: string;
  hits: Hit[];
  error?: unknown;
}

const pause = 120; // milliseconds without a key before we ask
const least = 2; // letters that say something

/** useSearch looks for what is typed, a moment after the last key, and answers for the latest text alone. */
export function useSearch(text: string): Found | null {
  const [found, setFound] = useState<Found | null>(null);
  const wanted = text.trim();
  const under = useRef<AbortController>();
  useEffect(() => {
    under.current?.abort();
    if (wanted.length < least) {
      setFound(null);
      return;
    }
    const mine = new AbortController();
    under.current = mine;
    const timer = setTimeout(() => {
      api
        .get("/api/search", { query: { q: wanted, limit: 12 }, signal: mine.signal })
        .then(({ body }) => !mine.signal.aborted && setFound({ for: wanted, hits: distinct(body.items) }))
        .catch((error: unknown) => !mine.signal.aborted && setFound({ for: wanted, hits: [], error }));
    }, pause);
    return () => {
      clearTimeout(timer);
      mine.abort();
    };
  }, [wanted]);
  return wanted.length < least ? null : found;
}
