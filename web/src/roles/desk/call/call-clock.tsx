import { useEffect, useState } from "preact/hooks";
import { Button } from "../../../ui/button";
import { deskWords } from "../words";
import { type Draft, isBlank } from "./draft";

/** clockOf is how long a call has lasted, as 3:07 or 1:03:07. */
export function clockOf(startedAt: string, now: Date): string {
  const seconds = Math.max(0, Math.floor((now.getTime() - Date.parse(startedAt)) / 1000));
  const two = (n: number) => String(n).padStart(2, "0");
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  return h > 0 ? `${h}:${two(m)}:${two(s)}` : `${m}:${two(s)}`;
}

/** useSecond is the time, told anew every second. */
export function useSecond(): Date {
  const [now, setNow] = useState(() => new Date());
  useEffect(() => {
    const timer = setInterval(() => setNow(new Date()), 1000);
    return () => clearInterval(timer);
  }, []);
  return now;
}

/** CallClock runs from the first word of a call, or from when its key was pressed. A screen reader is told when it asks. */
export function CallClock({ draft, begin }: { draft: Draft; begin: () => void }) {
  const words = deskWords().call;
  const now = useSecond();
  if (isBlank(draft)) {
    return (
      <Button kind="quiet" onClick={begin}>
        {words.begin} <kbd>F7</kbd>
      </Button>
    );
  }
  const clock = clockOf(draft.startedAt, now);
  return (
    <span class="call-clock" role="timer" aria-label={words.lasts(clock)}>
      {clock}
    </span>
  );
}
