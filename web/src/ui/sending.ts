import { useState } from "preact/hooks";

/** Sending is a form under way: busy while it is sent, and what went wrong the last time. */
export interface Sending {
  busy: boolean;
  error: unknown;
  submit: (event: Event) => void;
}

/** useSending sends a form once at a time and keeps what went wrong. */
export function useSending(work: () => Promise<void>): Sending {
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<unknown>(null);
  const submit = (event: Event) => {
    event.preventDefault();
    if (busy) return;
    setBusy(true);
    setError(null);
    work()
      .catch(setError)
      .finally(() => setBusy(false));
  };
  return { busy, error, submit };
}
