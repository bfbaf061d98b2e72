import { render } from "@testing-library/preact";
import { beforeEach, expect, it } from "vitest";
import en from "../farm/en";
import {
  farmWords,
  type Standing as StandingName,
  type TicketState as StateName,
  type Urgency as UrgencyName,
} from "../farm/words";
import { language } from "../i18n/language";
import { accessible } from "../testing/axe";
import { FirmNote, Standing, TicketState, Urgency } from "./marks";

beforeEach(async () => {
  language.value = "en";
  await farmWords.load();
});

// Colour never stands alone: each has its word, and no two have the same drawing.
it.each([
  [
    "standing",
    Object.keys(en.standing),
    (k: string) => <Standing standing={k as StandingName} />,
    en.standing,
  ],
  ["urgency", Object.keys(en.urgency), (k: string) => <Urgency urgency={k as UrgencyName} />, en.urgency],
  ["state", Object.keys(en.state), (k: string) => <TicketState state={k as StateName} />, en.state],
] as const)("every %s has its word and its own mark", async (_, keys, view, words) => {
  const drawings = new Set<string>();
  for (const key of keys) {
    const { container, unmount } = render(view(key));
    expect(container.textContent).toBe((words as Record<string, string>)[key]);
    const mark = container.querySelector("svg");
    expect(mark?.getAttribute("aria-hidden")).toBe("true");
    drawings.add(mark?.innerHTML ?? "");
    await accessible(container);
    unmount();
  }
  expect(drawings.size).toBe(keys.length);
});

it("draws longer bars for more urgent tickets", () => {
  const bars = Object.keys(en.urgency).map((key) => {
    const { container, unmount } = render(<Urgency urgency={key as UrgencyName} />);
    const widths = [...container.querySelectorAll("rect")].map((r) => Number(r.getAttribute("width")));
    unmount();
    return Math.max(...widths);
  });
  expect(bars).toEqual([...bars].sort((x, y) => y - x));
  expect(new Set(bars).size).toBe(bars.length);
});

it("says on whom a waiting ticket waits", () => {
  const { container } = render(<TicketState state="waiting" waitingOn="vet" />);
  expect(container.textContent).toBe("waiting on the vet");
});

it("adds words to a standing", () => {
  const { container } = render(<Standing standing="paused" also=", and behind" />);
  expect(container.textContent).toBe("paused, and behind");
});

it("says that a note stays inside the firm", async () => {
  const { container } = render(<FirmNote>Has not paid.</FirmNote>);
  expect(container.textContent).toContain("Inside the firm");
  await accessible(container);
});
