import { fireEvent, render, screen, waitFor, within } from "@testing-library/preact";
import { LocationProvider } from "preact-iso";
import { beforeEach, expect, it, vi } from "vitest";
import { keepPack } from "../farm/packs";
import { language } from "../i18n/language";
import { accessible } from "../testing/axe";
import { smallPack } from "../testing/farm";
import { fakeServer, problem, signedIn, type Told } from "../testing/server";
import { Training } from "./training";
import { trainingWords } from "./words";

beforeEach(async () => {
  language.value = "en";
  await Promise.all([trainingWords.load("en"), trainingWords.load("fr")]);
  keepPack("snail", smallPack);
});

const module = (key: string, name: string, more: object = {}) => ({
  enterprise: "snail",
  key,
  name,
  ...more,
});
const learner = {
  person_id: "p2",
  name: "Eposi Njoh",
  language: "en",
  farm_id: "f1",
  farm: "Sandpit Corner",
  branch_id: "b1",
  in_charge: true,
  enterprises: ["snail"],
  modules: [
    module("moving-safely", "Moving safely", { until: "2026-07-31" }),
    module("feeding", "Feeding", { answered_on: "2026-03-10" }),
    module("watering", "Watering", { lapsed_on: "2026-01-31" }),
    module("harvest", "Harvest"),
  ],
};
const cover = (id: string, name: string, people: number, held: number) => ({
  id,
  name,
  branch_id: "b1",
  enterprise: "snail",
  people,
  complete: held,
  modules: [
    { module: "moving-safely", held: people, lapsed: 0, missing: 0 },
    { module: "feeding", held, lapsed: 1, missing: people - held - 1 },
  ],
});
const empty = { module: "moving-safely", held: 0, lapsed: 0, missing: 0 };
const page = {
  on: "2026-03-12",
  people: [learner],
  farms: [{ ...cover("f2", "Hillside", 0, 0), modules: [empty] }, cover("f1", "Sandpit Corner", 4, 1)],
  branches: [cover("b1", "Buea", 4, 1)],
};
const question = {
  enterprise: "snail",
  module: "feeding",
  question: "how-much",
  ask: "How much feed for 100 snails?",
  safety: false,
  asked: 40,
  wrong: 24,
  share: 0.6,
  low: 0.446,
  high: 0.737,
  rewrite: true,
};
const fine = { ...question, question: "gloves", ask: "When are gloves worn?", safety: true, wrong: 4 };
const questions = [question, { ...fine, share: 0.1, low: 0.04, high: 0.231, rewrite: false }];

function show(role: "manager" | "advisor" | "field-officer" = "manager", more: Record<string, Told> = {}) {
  signedIn(role);
  const server = fakeServer({
    "GET /api/branches": {
      items: [
        { id: "b1", name: "Buea" },
        { id: "b2", name: "Douala" },
      ],
    },
    "GET /api/packs": { items: [{ enterprise: "snail", name: smallPack.name, version: "1" }] },
    "GET /api/training": page,
    "GET /api/training/questions": { items: questions },
    ...more,
  });
  window.history.replaceState(null, "", "/manager/training");
  const shown = render(
    <LocationProvider>
      <Training />
    </LocationProvider>,
  );
  return { server, ...shown };
}

const plain = (element: Element) => (element.textContent ?? "").replace(/[\u00a0\u202f]/g, " ");
const rows = (table: HTMLElement) => within(table).getAllByRole("row").slice(1).map(plain);
const tableOf = async (name: string) =>
  within(await screen.findByRole("region", { name: new RegExp(`^${name}$`) })).getByRole("table");

it("counts who holds each module, and says what farms lack, with the way to them", async () => {
  const { container } = show();
  expect(rows(await tableOf("By branch and module"))).toEqual([
    "Moving safelyBueaSnails400 100 %",
    "FeedingBueaSnails112 25 %",
  ]);
  expect(rows(await tableOf("By farm"))).toEqual([
    "HillsideSnailsnobody in charge0",
    "Sandpit CornerSnails41Feeding (3 of 4)",
  ]);
  expect(screen.getByRole("link", { name: "Hillside" }).getAttribute("href")).toBe("/farms/f2#people");
  await accessible(container);
});

it("says who is learning what, in French too", async () => {
  language.value = "fr";
  const { container } = show("advisor");
  const row = (await screen.findByText("Eposi Njoh")).closest("tr") as HTMLElement;
  expect(plain(row)).toBe(
    "Eposi NjohresponsableSandpit Corner1 sur 4Feeding : questions réussies le 10 mars 2026, contrôle pratique à venirWatering : expiré le 31 janv. 2026Harvest",
  );
  await accessible(container);
});

it("says which questions to rewrite, with the share wrong and its interval", async () => {
  show();
  expect(await screen.findByText("1 question is to be rewritten. It stands first.")).toBeTruthy();
  expect(rows(await tableOf("Questions that fail"))).toEqual([
    "How much feed for 100 snails?Feeding24 of 4060 %45 % to 74 %rewrite",
    "When are gloves worn?safetyFeeding4 of 4010 %4 % to 23 %keep",
  ]);
});

it("asks for one branch, and takes its record along as a file under the session", async () => {
  const { server } = show("manager", { "GET /api/training/record.csv": () => "person,module" });
  const made = vi.fn((_file: Blob) => "blob:record");
  vi.stubGlobal("URL", Object.assign(URL, { createObjectURL: made, revokeObjectURL: () => undefined }));
  const pressed = vi.spyOn(HTMLAnchorElement.prototype, "click").mockImplementation(() => undefined);
  fireEvent.change(await screen.findByLabelText("Branch"), { target: { value: "b2" } });
  await waitFor(() => expect(server.asked("GET /api/training").at(-1)?.query.get("branch")).toBe("b2"));
  fireEvent.click(screen.getByRole("button", { name: "Take the record as a spreadsheet (CSV)" }));
  await waitFor(() => expect(pressed).toHaveBeenCalledOnce());
  const [request] = server.asked("GET /api/training/record.csv");
  expect(request?.query.toString()).toBe("lang=en&branch=b2");
  expect(request?.headers.Authorization).toBe("Bearer token of p1");
  expect((pressed.mock.contexts[0] as HTMLAnchorElement).download).toMatch(/^training-\d{4}-\d\d-\d\d\.csv$/);
  pressed.mockRestore();
});

it("says why the record could not be taken", async () => {
  show("manager", { "GET /api/training/record.csv": problem(403, "forbidden") });
  fireEvent.click(await screen.findByRole("button", { name: "Take the record as a spreadsheet (CSV)" }));
  expect((await screen.findByRole("alert")).textContent).toContain("Your role does not allow this.");
});

it("says that there is nothing to count or rewrite yet", async () => {
  const { container } = show("manager", {
    "GET /api/training": { on: "2026-03-12", people: [], farms: [], branches: [] },
    "GET /api/training/questions": { items: [] },
  });
  expect(await screen.findByText("Nobody works on a farm here yet.")).toBeTruthy();
  expect(await screen.findByText("No question has been answered yet.")).toBeTruthy();
  await accessible(container);
});
