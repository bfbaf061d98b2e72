import type { ComponentChildren } from "preact";
import {
  farmWords,
  type Standing as StandingName,
  type TicketState as StateName,
  type Urgency as UrgencyName,
  type WaitingOn,
} from "../farm/words";
import "./marks.css";

const stake = "M10 5a2 2 0 0 1 4 0v12l-2 5-2-5z";
const ground = "M2 19h20";

// A standing is a peg on a line, so that it reads without its colour.
const pegs: Record<StandingName, ComponentChildren> = {
  "on-course": (
    <>
      <path class="peg-line" d={ground} />
      <path class="peg" d={stake} />
    </>
  ),
  slipping: (
    <>
      <path class="peg-line" d={ground} />
      <path class="peg" d={stake} transform="rotate(28 12 20)" />
    </>
  ),
  behind: (
    <>
      <path class="peg-line" d="M2 19h3l2 3 2-3h13" />
      <path class="peg" d={stake} transform="rotate(66 11 16)" />
    </>
  ),
  "no-news": (
    <>
      <path class="peg-line" d="M2 19h8l2 3 2-3h8" />
      <path class="peg-gone" d="M10 15V5a2 2 0 0 1 4 0v10" />
    </>
  ),
  paused: (
    <>
      <path class="peg-line" d={ground} />
      <path class="peg" d={stake} transform="rotate(90 12 12) translate(3.2 0)" />
    </>
  ),
  complete: (
    <>
      <path
        class="peg"
        d="M10.5 4a1.5 1.5 0 0 1 3 0v8h-3zM6 6.5 8.6 5.6l2.2 6.4h-3zM18 6.5l-2.6-.9L13.5 12h3z"
      />
      <path class="peg-line" d="M3 12h18l-2.5 9.5h-13zM5 16.5h14" />
    </>
  ),
  "to-confirm": (
    <>
      <path class="peg-line" d={ground} />
      <path class="peg-outline" d={stake} />
    </>
  ),
};

/** Peg is the mark of a standing alone, for a map or a key; elsewhere use Standing, which has the word. */
export function Peg({ standing }: { standing: StandingName }) {
  return (
    <svg class={`mark tint-${standing}`} viewBox="0 0 24 24" width="22" height="22" aria-hidden="true">
      {pegs[standing]}
    </svg>
  );
}

/** Standing is the mark and the word of a standing; `also` adds words: "paused, and behind". */
export function Standing({ standing, also }: { standing: StandingName; also?: string }) {
  return (
    <span class={`marked tint-${standing}`}>
      <Peg standing={standing} />
      <span>
        {farmWords().standing[standing]}
        {also}
      </span>
    </span>
  );
}

const levels: Record<UrgencyName, number> = {
  "person-in-danger": 5,
  "animals-at-risk": 4,
  "losing-time": 3,
  routine: 2,
  "no-hurry": 1,
};

/** Urgency is the word of an urgency beside bars that grow with it. */
export function Urgency({ urgency }: { urgency: UrgencyName }) {
  const bars = Array.from({ length: levels[urgency] }, (_, i) => i);
  return (
    <span class={`marked urgency urgency-${urgency}`}>
      <svg class="mark" viewBox="0 0 20 20" width="18" height="18" aria-hidden="true">
        {bars.map((i) => (
          <rect key={i} x="0" y={16.5 - 4 * i} width={4 * (i + 1)} height="2.8" />
        ))}
      </svg>
      <span>{farmWords().urgency[urgency]}</span>
    </span>
  );
}

const states: Record<StateName, ComponentChildren> = {
  reported: <circle cx="8" cy="8" r="6" />,
  assessed: (
    <>
      <circle cx="8" cy="8" r="6" />
      <circle class="full" cx="8" cy="8" r="2.3" />
    </>
  ),
  "in-hand": (
    <>
      <circle cx="8" cy="8" r="6" />
      <path class="full" d="M8 2a6 6 0 0 1 0 12z" />
    </>
  ),
  waiting: (
    <>
      <circle cx="8" cy="8" r="6" />
      <path d="M8 4.5V8l2.5 1.8" />
    </>
  ),
  settled: (
    <>
      <circle class="full" cx="8" cy="8" r="6" />
      <path class="cut" d="m5 8.2 2.2 2.2L11 6" />
    </>
  ),
};

/** TicketState is the word of a state beside its mark; marks of states have no colour. */
export function TicketState({ state, waitingOn }: { state: StateName; waitingOn?: WaitingOn | "" }) {
  const words = farmWords();
  return (
    <span class="marked">
      <svg class="mark state" viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
        {states[state]}
      </svg>
      <span>{state === "waiting" && waitingOn ? words.waitingOn[waitingOn] : words.state[state]}</span>
    </span>
  );
}

/** FirmNote sets apart what no client may see: on raised paper behind a double rule, with the words. */
export function FirmNote({ children }: { children: ComponentChildren }) {
  return (
    <div class="firm-note" role="note" aria-label={farmWords().firm}>
      <p class="firm-note-words">{farmWords().firm}</p>
      {children}
    </div>
  );
}
