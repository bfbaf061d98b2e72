import { fireEvent, render, screen } from "@testing-library/preact";
import { LocationProvider } from "preact-iso";
import { beforeEach, expect, it } from "vitest";
import { language } from "../../i18n/language";
import { ask } from "../../learn/draw";
import { bankOf, type LessonModule } from "../../learn/lessons";
import { learnWords } from "../../learn/words";
import { accessible } from "../../testing/axe";
import { smallFarm } from "../../testing/farm";
import { fakeServer, type Seen, signedIn } from "../../testing/server";
import { Aloud } from "./aloud";

const one = (n: number) => ({
  key: `q${n}`,
  kind: "one" as const,
  safety: n === 1,
  card: "c",
  ask: `Question number ${n}`,
  right: "yes",
  why: `Because ${n}.`,
  options: [
    { key: "yes", text: `Right ${n}` },
    { key: "no", text: `Wrong ${n}` },
  ],
});
const lesson: LessonModule = {
  key: "feeding",
  name: "Feeding",
  version: "v1",
  draw: 5,
  cards: [],
  questions: [1, 2, 3, 4, 5].map(one),
  tasks: [],
  voice_bytes: 0,
};
const module = {
  enterprise: "snail",
  key: "feeding",
  name: "Feeding",
  lessons: true,
  seed: 7,
};

beforeEach(async () => {
  language.value = "en";
  await learnWords.load();
  signedIn();
});

async function show(more: object = {}) {
  const learner = { person_id: "p2", name: "Eposi Njoh", language: "fr", modules: [{ ...module, ...more }] };
  const server = fakeServer({
    "GET /api/farms/f1": smallFarm,
    "GET /api/farms/f1/training": { items: [learner] },
    "GET /api/lessons/snail": { enterprise: "snail", language: "fr", modules: [lesson] },
    "GET /api/lessons/snail/drawings": { drawings: {} },
    "POST /api/farms/f1/entries": {},
  });
  const params = { id: "f1", person: "p2", enterprise: "snail", module: "feeding" };
  const shown = render(
    <LocationProvider>
      <Aloud params={params} />
    </LocationProvider>,
  );
  await screen.findByRole("heading", { level: 1, name: "Feeding: questions for Eposi Njoh" });
  return { ...shown, server };
}

const press = (name: string | RegExp) => fireEvent.click(screen.getByRole("button", { name }));

it("reads the questions of the person's draw in their language, and keeps what was said", async () => {
  const { server, container } = await show();
  await screen.findByText("Question 1 of 5");
  expect(server.asked("GET /api/lessons/snail")[0]?.query.get("lang")).toBe("fr");
  await accessible(container);
  const drawn = ask(bankOf(lesson), 7).map((a) => Number(a.question.slice(1)));
  for (const n of drawn) press(n === 3 ? "Wrong 3" : `Right ${n}`);
  expect(screen.queryByText(/^Because/), "nobody is told while asking").toBeNull();
  await screen.findByText(/All 5 questions are asked/);
  press("Question before");
  press(`Right ${drawn[4]}`);
  press("Keep the answers");
  await screen.findByRole("heading", { name: "Passed the questions" });
  const sent = (server.asked("POST /api/farms/f1/entries")[0] as Seen).body as {
    kind: string;
    data: { answers: object };
  };
  expect(sent).toMatchObject({
    kind: "answers",
    data: { person_id: "p2", enterprise: "snail", module: "feeding", version: "v1", seed: 7 },
  });
  expect(Object.keys(sent.data.answers)).toHaveLength(5);
});

it("says what was wrong and why, once the answers are kept", async () => {
  const { container } = await show();
  await screen.findByText("Question 1 of 5");
  for (let i = 0; i < 5; i++) press("No answer");
  press("Keep the answers");
  await screen.findByRole("heading", { name: "Not passed yet" });
  expect(screen.getAllByRole("listitem")).toHaveLength(5);
  expect(container.textContent).toContain("Because 1.");
  await accessible(container);
});

it("waits until the day after a round that failed", async () => {
  await show({ retake_on: "2999-01-01" });
  await screen.findByText(/This person can answer again on 1.Jan.2999/);
});

it("says so where a module has no questions", async () => {
  await show({ lessons: false });
  await screen.findByText(/taught from paper/);
});
