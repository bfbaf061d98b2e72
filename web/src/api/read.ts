import { useCallback, useEffect, useRef, useState } from "preact/hooks";

/** Read is something that the server was asked for: the last good answer stays while a newer one is brought. */
export interface Read<T> {
  value: T | undefined;
  error: unknown;
  busy: boolean;
  /** When the value was read, so that an old one can say so. */
  readAt: Date | undefined;
  again: () => Promise<void>;
}

interface State<T> {
  key: string;
  value?: T;
  error?: unknown;
  busy: boolean;
  readAt?: Date;
}

/**
 * useRead asks for something when the component appears and whenever `key`
 * changes: the key names what is asked for. A new key drops the old value; an
 * answer that comes after the key has changed is thrown away.
 */
export function useRead<T>(key: string, load: (signal: AbortSignal) => Promise<T>): Read<T> {
  const [state, setState] = useState<State<T>>({ key, busy: true });
  const latest = useRef(load);
  latest.current = load;
  const under = useRef<AbortController>();
  const again = useCallback(async () => {
    under.current?.abort();
    const mine = new AbortController();
    under.current = mine;
    setState((old) => (old.key === key ? { ...old, busy: true } : { key, busy: true }));
    try {
      const value = await latest.current(mine.signal);
      if (!mine.signal.aborted) setState({ key, value, busy: false, readAt: new Date() });
    } catch (error) {
      if (!mine.signal.aborted) setState((old) => ({ ...old, key, error, busy: false }));
    }
  }, [key]);
  useEffect(() => {
    void again();
    return () => under.current?.abort();
  }, [again]);
  // The first draw after a change of key must not show the old value.
  const shown = state.key === key ? state : { key, busy: true };
  return { value: shown.value, error: shown.error, busy: shown.busy, readAt: shown.readAt, again };
}

/** A Page of a list, as the API answers it. */
export interface Page<T> {
  items: T[];
  next?: string;
}

/** ReadList is a list read page by page; `more` brings the next one and is absent on the last. */
export interface ReadList<T> extends Read<T[]> {
  more: (() => void) | undefined;
}

/** useReadList reads the first page of a list, and more when asked to. */
export function useReadList<T>(
  key: string,
  load: (cursor: string | undefined, signal: AbortSignal) => Promise<Page<T>>,
): ReadList<T> {
  const [rest, setRest] = useState<{
    first: Page<T>;
    items: T[];
    next: string | undefined;
    error?: unknown;
  }>();
  const [busy, setBusy] = useState(false);
  const first = useRead(key, (signal) => load(undefined, signal));
  // What was read after another first page belongs to that one.
  const further = rest && rest.first === first.value ? rest : undefined;
  const next = further ? further.next : first.value?.next;
  const more = () => {
    const start = first.value;
    if (!start || busy) return;
    setBusy(true);
    const items = further?.items ?? [];
    load(next, new AbortController().signal)
      .then((page) => setRest({ first: start, items: [...items, ...page.items], next: page.next }))
      .catch((error: unknown) => setRest({ first: start, items, next, error }))
      .finally(() => setBusy(false));
  };
  return {
    ...first,
    value: first.value && [...first.value.items, ...(further?.items ?? [])],
    error: further?.error ?? first.error,
    busy: busy || first.busy,
    more: next ? more : undefined,
  };
}
