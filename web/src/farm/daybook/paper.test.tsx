import "fake-indexeddb/auto";
import { fireEvent, render, screen, waitFor, within } from "@testing-library/preact";
import { LocationProvider } from "preact-iso";
import { beforeEach, expect, it } from "vitest";
import { language } from "../../i18n/language";
import { accessible } from "../../testing/axe";
import { smallPack } from "../../testing/farm";
import { fakeServer, type Seen, signedIn } from "../../testing/server";
import { keepPack } from "../packs";
import { pageWords } from "../page/words";
import { Paper } from "./paper";
import type { DaybookPage } from "./sheet";
import { sheetWords } from "./words";

let unit = 0;

beforeEach(async () => {
  language.value = "en";
  await Promise.all([sheetWords.load(), pageWords.load()]);
  keepPack("snail", smallPack);
  signedIn();
  unit++; // each test has a draft of its own
});

const pageOf = (more: Partial<DaybookPage> = {}): DaybookPage => ({
  farm_id: "f1",
  farm: "Sandpit Corner",
  unit_id: `u${unit}`,
  unit: "House 1",
  enterprise: "snail",
  today: "2026-03-12",
  from: "2026-03-01",
  to: "2026-03-14",
  animals: { put_in: 200, living: 190 },
  people: [
    { id: "p2", name: "Eposi Njoh", language: "fr", in_charge: true },
    { id: "p3", name: "Ngu Tabe", language: "en", in_charge: false },
  ],
  days: [{ id: "old", on: "2026-03-02", data: { deaths: 1 } }],
  ...more,
});

interface Sent {
  id: string;
  on: string;
  replaces?: string;
  data: Record<string, unknown>;
}
const entriesOf = (seen: Seen) => (seen.body as { entries: Sent[] }).entries;
const allKept = (seen: Seen) => ({
  received_at: "2026-03-12T10:00:00Z",
  receipts: entriesOf(seen).map((e) => ({ id: e.id, state: "kept" })),
});

async function show(page = pageOf()) {
  const server = fakeServer({
    [`GET /api/units/u${unit}/daybook`]: page,
    "GET /api/packs/snail": smallPack,
    "POST /api/sync": allKept,
  });
  const shown = render(
    <LocationProvider>
      <Paper params={{ id: "f1", unit: `u${unit}` }} />
    </LocationProvider>,
  );
  await screen.findByRole("heading", { name: "Daybook on paper: House 1" });
  return { ...shown, server };
}

const plain = (element: Element) => (element.textContent ?? "").replace(/[\u00a0\u202f]/g, " ");
const cell = (name: string) => screen.getByLabelText(name) as HTMLInputElement;
const type = (name: string, value: string) => fireEvent.input(cell(name), { target: { value } });
const press = (name: string, key: string, more = {}) => fireEvent.keyDown(cell(name), { key, ...more });
const save = () => fireEvent.click(screen.getByRole("button", { name: /^Save \d+ days?$/ }));

it("shows the page as it was printed, with what stands, and days to come closed", async () => {
  const { container } = await show();
  expect(screen.getAllByRole("columnheader")).toHaveLength(15);
  expect(cell("Dead, 2 Mar 2026").value).toBe("1");
  expect(cell("Dead, 13 Mar 2026").disabled).toBe(true);
  expect(screen.getByRole("rowheader", { name: /^Watered/ }).textContent).toContain("2 Once");
  await accessible(container);
});

it("goes from cell to cell by keyboard, down a day and on to the next", async () => {
  await show();
  cell("Dead, 1 Mar 2026").focus();
  press("Dead, 1 Mar 2026", "Enter");
  expect(document.activeElement).toBe(cell("Feed given (kg), 1 Mar 2026"));
  press("Feed given (kg), 1 Mar 2026", "ArrowRight");
  expect(document.activeElement).toBe(cell("Feed given (kg), 2 Mar 2026"));
  press("Feed given (kg), 2 Mar 2026", "ArrowUp");
  expect(document.activeElement).toBe(cell("Dead, 2 Mar 2026"));
  press("Note, 2 Mar 2026", "Enter");
  expect(document.activeElement).toBe(cell("All well, nothing died, 3 Mar 2026"));
});

it("saves every changed day at once, under the name of who wrote it, and corrects what stood", async () => {
  const { server } = await show();
  type("Dead, 1 Mar 2026", "0");
  type("Dead, 2 Mar 2026", "2");
  fireEvent.click(cell("All well, nothing died, 3 Mar 2026"));
  type("Watered, 3 Mar 2026", "3");
  save();
  await screen.findAllByText("saved");
  const [first, second, third] = entriesOf(server.asked("POST /api/sync")[0] as Seen);
  expect(first).toMatchObject({ on: "2026-03-01", data: { deaths: 0, source: "paper", written_by: "p2" } });
  expect(second).toMatchObject({ on: "2026-03-02", replaces: "old", data: { deaths: 2 } });
  expect(third?.data).toEqual({ all_well: true, watering: "rain", source: "paper", written_by: "p2" });
  expect(screen.getByRole("button", { name: "Save the page" })).toHaveProperty("disabled", true);
});

it("keeps an impossible value back, says why at the cell, and asks an unlikely one back", async () => {
  const { server, container } = await show();
  type("Dead, 1 Mar 2026", "4001");
  expect(cell("Dead, 1 Mar 2026").getAttribute("aria-invalid")).toBe("true");
  const faults = screen.getByRole("heading", { name: "Look at these again" }).parentElement as HTMLElement;
  expect(plain(faults)).toContain("Dead, 1 Mar 2026: This cannot be: by the register at most 4,000.");
  expect(screen.getByRole("button", { name: "Save 1 day" })).toHaveProperty("disabled", true);
  type("Dead, 1 Mar 2026", "31");
  fireEvent.click(within(faults).getByRole("button", { name: /^It is right: Dead, 1.Mar.2026, 31$/ }));
  await accessible(container);
  save();
  await screen.findByText("saved");
  expect(entriesOf(server.asked("POST /api/sync")[0] as Seen)[0]?.data).toMatchObject({
    deaths: 31,
    sure: ["deaths"],
  });
});

it("sends the same ids again after an answer that was lost", async () => {
  const { server } = await show();
  server.on("POST /api/sync", {
    status: 503,
    body: { code: "busy", status: 503, detail: "busy", fields: [] },
  });
  type("Dead, 1 Mar 2026", "0");
  save();
  await screen.findByRole("alert");
  server.on("POST /api/sync", (seen: Seen) => ({
    received_at: "",
    receipts: entriesOf(seen).map((e) => ({ id: e.id, state: "kept-before" })),
  }));
  save();
  await screen.findByText("saved");
  const ids = server.asked("POST /api/sync").map((seen) => entriesOf(seen)[0]?.id);
  expect(new Set(ids).size).toBe(1);
});

it("corrects the first try where it arrived and was typed on", async () => {
  const { server } = await show();
  let tries = 0;
  server.on("POST /api/sync", (seen: Seen) => {
    tries++;
    if (tries > 1) return allKept(seen);
    const problem = { type: "", title: "", status: 409, code: "event-id-taken", detail: "" };
    return {
      received_at: "",
      receipts: entriesOf(seen).map((e) => ({ id: e.id, state: "refused", problem })),
    };
  });
  type("Dead, 1 Mar 2026", "1");
  save();
  await screen.findByText("saved");
  const [first, second] = server.asked("POST /api/sync").map((seen) => entriesOf(seen)[0]);
  expect(second?.replaces).toBe(first?.id);
  expect(second?.id).not.toBe(first?.id);
});

it("shows at its cell what the server refuses, and keeps the other days", async () => {
  const { server } = await show();
  server.on("POST /api/sync", (seen: Seen) => ({
    received_at: "",
    receipts: entriesOf(seen).map((e, i) =>
      i > 0
        ? { id: e.id, state: "kept" }
        : {
            id: e.id,
            state: "refused",
            problem: {
              type: "",
              title: "",
              status: 422,
              code: "entry-refused",
              detail: "",
              fields: [{ path: "data.deaths", code: "unlikely", text: "" }],
            },
          },
    ),
  }));
  type("Dead, 1 Mar 2026", "3");
  type("Dead, 3 Mar 2026", "0");
  save();
  await waitFor(() => expect(plain(screen.getByRole("alert"))).toContain("Dead, 1 Mar 2026: Is that right?"));
  expect(screen.getByRole("button", { name: "Save 1 day" })).toBeTruthy();
  expect(cell("Dead, 1 Mar 2026").getAttribute("aria-invalid")).toBe("true");
});

it("keeps what was typed on the disk until it is saved", async () => {
  const { unmount, server } = await show();
  type("Dead, 1 Mar 2026", "0");
  await new Promise((done) => setTimeout(done, 50));
  unmount();
  await show();
  await screen.findByText("What you had typed is still here. It is not saved yet.");
  expect(cell("Dead, 1 Mar 2026").value).toBe("0");
  expect(server.asked("POST /api/sync")).toHaveLength(0);
});

it("says what to do where nobody works on the farm, and is readable in French", async () => {
  language.value = "fr";
  await Promise.all([sheetWords.load(), pageWords.load()]);
  fakeServer({
    [`GET /api/units/u${unit}/daybook`]: pageOf({ people: [] }),
    "GET /api/packs/snail": smallPack,
  });
  const { container } = render(
    <LocationProvider>
      <Paper params={{ id: "f1", unit: `u${unit}` }} />
    </LocationProvider>,
  );
  await screen.findByText(/Personne n’est inscrit/);
  expect(screen.getByRole("button", { name: "Imprimer en français" })).toBeTruthy();
  await accessible(container);
});
