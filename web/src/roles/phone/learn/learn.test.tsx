import "fake-indexeddb/auto";
import { act, cleanup, fireEvent, render, screen } from "@testing-library/preact";
import { LocationProvider } from "preact-iso";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { begin } from "../../../api/session";
import { language } from "../../../i18n/language";
import { ask } from "../../../learn/draw";
import { bankOf, type LessonModule, type LessonsPage } from "../../../learn/lessons";
import { learnWords } from "../../../learn/words";
import { wipe } from "../../../offline/db";
import { entries } from "../../../offline/outbox";
import { accessible } from "../../../testing/axe";
import { fakeLocks } from "../../../testing/locks";
import { Shown } from "../../../testing/pages";
import { aDay, aFarm } from "../../../testing/today";
import { today } from "../data";
import { type FarmEntry, farmEntryOf } from "../entry";
import { pages } from "../pages";
import { phoneWords } from "../words";
import { contentOf, retakeOn } from "./data";

const seed = 7;
const options = ["a", "b", "c"].map((key) => ({ key, text: `option ${key}`, drawing: "pot" }));
const question = (n: number, more: object = {}) => ({
  key: `q${n}`,
  kind: "one" as const,
  card: "salt",
  ask: `Question ${n}?`,
  options,
  right: "b",
  why: `Why ${n}.`,
  ...more,
});
const lesson: LessonModule = {
  key: "feeding",
  name: "Feeding and calcium",
  version: "abc",
  draw: 6,
  cards: [
    { key: "salt", drawing: "pot", title: "No salt", text: "Salt kills.", safety: true },
    { key: "leaf", drawing: "pot", title: "Leaves", text: "Give leaves at dusk." },
    { key: "shell", drawing: "pot", title: "Shells", text: "Grind the shells." },
  ],
  questions: [
    question(1, { safety: true }),
    question(2, { kind: "order", right: undefined }),
    question(3, { kind: "sum", options: undefined, right: undefined, answer: 12, measure: "kg" }),
    question(4, { kind: "picture" }),
    question(5),
    question(6),
  ],
  tasks: [{ key: "t1", text: "Gives feed at dusk." }],
};
const page: LessonsPage = { enterprise: "snail", language: "en", modules: [lesson] };
const pot = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0h9"/></svg>';

const farm = (more: object = {}) =>
  aFarm({
    modules: [
      { enterprise: "snail", key: "feeding", name: "Feeding and calcium", lessons: true, seed, ...more },
    ],
  });
let day = aDay(farm());
let network = true;
const fetched = vi.fn(async (url: string) => {
  if (!network) throw new TypeError("no network");
  if (url.startsWith("/api/today")) return new Response(JSON.stringify(day));
  if (url.startsWith("/api/lessons/snail/drawings"))
    return new Response(JSON.stringify({ drawings: { pot } }));
  if (url.startsWith("/api/lessons/snail")) return new Response(JSON.stringify(page));
  throw new TypeError("no network");
});

beforeEach(async () => {
  vi.useFakeTimers({ now: new Date("2026-03-12T09:00:00Z"), toFake: ["Date"] });
  vi.stubGlobal("fetch", fetched);
  vi.stubGlobal("navigator", { locks: fakeLocks(), onLine: false });
  await wipe();
  network = true;
  begin({
    access_token: "t",
    person: { id: "p1", name: "p1", language: "en", grants: [{ role: "caretaker", branch_id: "" }] },
  });
  day = aDay(farm());
  language.value = "en";
  await Promise.all([phoneWords.load("en"), learnWords.load("en")]);
});
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

async function at(path: string) {
  history.replaceState(null, "", path);
  const { lessons, drawings } = contentOf("snail");
  await Promise.all([today.bring(), lessons.bring(), drawings.bring()]);
  network = false; // everything below is offline
  const drawn = render(
    <LocationProvider>
      <Shown pages={pages} />
    </LocationProvider>,
  );
  await screen.findByRole("heading", { level: 1 });
  return drawn;
}

const press = (name: string | RegExp) =>
  act(() => void fireEvent.click(screen.getByRole("button", { name })));

// Answers what is on the screen, rightly or not.
async function answer(key: string, rightly: boolean) {
  const q = lesson.questions.find((one) => one.key === key);
  await screen.findByRole("heading", { name: q?.ask as string });
  if (q?.kind === "sum") {
    act(
      () => void fireEvent.input(screen.getByRole("textbox"), { target: { value: rightly ? "12" : "13" } }),
    );
    await press("That is my answer");
  } else if (q?.kind === "order") {
    for (const option of rightly ? ["a", "b", "c"] : ["c", "b", "a"]) await press(`option ${option}`);
    await press("This is my order");
  } else await press(`option ${rightly ? "b" : "a"}`);
  await screen.findByText(rightly ? "Right." : /Not right/);
}

async function said(): Promise<FarmEntry> {
  await vi.waitFor(() => expect(entries.value).toHaveLength(1));
  return farmEntryOf(entries.value[0] as never) as FarmEntry;
}

it.each([
  "/today/modules",
  "/today/module/snail/feeding",
  "/today/module/snail/feeding/card/1",
  "/today/module/snail/feeding/questions",
])(
  "%s is accessible without a network",
  async (path) => {
    const { container } = await at(path);
    await vi.waitFor(() => expect(container.querySelector("main, h1 ~ *, section, ul, p")).toBeTruthy());
    await accessible(container);
  },
  20_000,
);

it("goes from card to card", async () => {
  await at("/today/module/snail/feeding/card/1");
  await screen.findByText("Salt kills.");
  expect(document.querySelector(".drawing svg")).toBeTruthy();
  expect(screen.getByText("Card 1 of 3")).toBeTruthy();
  act(() => void fireEvent.click(screen.getByRole("link", { name: /Next/ })));
  await screen.findByText("Give leaves at dusk.");
});

it("asks, explains what was wrong with its card, and keeps the answers", async () => {
  await at("/today/module/snail/feeding/questions");
  const asked = ask(bankOf(lesson), seed);
  const wrong = asked.find((a) => a.question !== "q1")?.question as string;
  for (const { question: key } of asked) {
    await answer(key, key !== wrong);
    if (key === wrong) {
      screen.getByText(`Why ${key.slice(1)}.`);
      screen.getByText("Salt kills.");
    }
    await press("Next");
  }
  await screen.findByText("Passed the questions");
  screen.getByText("5 of 6 right.");
  screen.getByText("Gives feed at dusk.");
  const entry = await said();
  expect(entry).toMatchObject({
    kind: "answers",
    data: { enterprise: "snail", module: "feeding", version: "abc", seed, told: true },
  });
  const { answers } = (entry as FarmEntry<"answers">).data;
  expect(Object.keys(answers).sort()).toEqual(lesson.questions.map((q) => q.key));
  cleanup();
  await at("/today/modules");
  await screen.findByText(/questions passed on/);
}, 20_000);

it("does not pass who fails a question about safety, and goes on where the page was closed", async () => {
  await at("/today/module/snail/feeding/questions");
  const asked = ask(bankOf(lesson), seed);
  for (const [n, { question: key }] of asked.entries()) {
    await answer(key, key !== "q1");
    if (key === "q1") screen.getByText(/about safety/);
    if (n === 2) {
      await new Promise((done) => setTimeout(done));
      cleanup();
      await at("/today/module/snail/feeding/questions");
      continue;
    }
    await press("Next");
  }
  await screen.findByText("Not passed yet");
  expect((await said()).data).toMatchObject({ told: false });
  cleanup();
  await at("/today/module/snail/feeding");
  await screen.findByText(/You can answer again on 13/);
}, 20_000);

it("lets a retake wait for the next day, unless stocking waits", () => {
  expect(retakeOn({ failed_on: "2026-03-12" }, "2026-03-12")).toBe("2026-03-13");
  expect(retakeOn({ failed_on: "2026-03-12" }, "2026-03-13")).toBeUndefined();
  expect(retakeOn({ failed_on: "2026-03-12", waits: true }, "2026-03-12")).toBeUndefined();
  expect(retakeOn({}, "2026-03-12")).toBeUndefined();
});
