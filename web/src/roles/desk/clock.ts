import { useEffect, useRef, useState } from "preact/hooks";

const tick = 20_000;

/** useNow is the time, told anew often enough for words like "in 25 min". */
export function useNow(): Date {
  const [now, setNow] = useState(() => new Date());
  useEffect(() => {
    const timer = setInterval(() => setNow(new Date()), tick);
    return () => clearInterval(timer);
  }, []);
  return now;
}

/** useAgain reads something anew every 20 seconds while the screen is looked at, and when one comes back to it. */
export function useAgain(read: () => unknown): void {
  const latest = useRef(read);
  latest.current = read;
  useEffect(() => {
    const run = () => document.visibilityState === "visible" && void latest.current();
    const timer = setInterval(run, tick);
    document.addEventListener("visibilitychange", run);
    return () => {
      clearInterval(timer);
      document.removeEventListener("visibilitychange", run);
    };
  }, []);
}
