import { act, fireEvent, render, screen, waitFor, within } from "@testing-library/preact";
import { LocationProvider } from "preact-iso";
import { beforeEach, expect, it } from "vitest";
import { language } from "../../i18n/language";
import { accessible } from "../../testing/axe";
import { smallFarm, smallPack } from "../../testing/farm";
import { type Answer, fakeServer, type Seen, signedIn } from "../../testing/server";
import { keepPack } from "../packs";
import { visitWords } from "../visits/words";
import { farmWords } from "../words";
import { Farm } from "./farm";
import { pageWords } from "./words";

beforeEach(async () => {
  language.value = "en";
  await Promise.all([farmWords.load(), pageWords.load(), visitWords.load()]);
  keepPack("snail", smallPack);
  signedIn();
});

const empty = () => ({ items: [] });

async function show(more: Record<string, (seen: Seen) => Answer | unknown> = {}) {
  const { seen } = fakeServer({
    "GET /api/farms/f1": () => smallFarm,
    "GET /api/farms/f1/events": empty,
    "GET /api/tickets": empty,
    "GET /api/visits": empty,
    "GET /api/promises": empty,
    "GET /api/farms/f1/requests": empty,
    "GET /api/people/p1": () => ({ id: "p1", name: "Marthe Ndive" }),
    "GET /api/packs/snail": () => smallPack,
    ...more,
  });
  const shown = render(
    <LocationProvider>
      <Farm params={{ id: "f1" }} />
    </LocationProvider>,
  );
  await screen.findByRole("heading", { name: "Sandpit Corner" });
  return { ...shown, seen };
}

const plain = (element: Element) => (element.textContent ?? "").replace(/[\u00a0\u202f]/g, " ");

it("shows what was planned, what is likely, why, and the trade's claim with what it rests on", async () => {
  const { container } = await show();
  const text = plain(container);
  expect(text).toContain("First harvest most likely on 20 May 2027, 9 times in 10 before 2 Sep 2027.");
  expect(text).toContain("Of the slip, 19 days are the farm's own and 5 days are pauses.");
  expect(text).toContain("What holds it up: Plant cover ready.");
  expect(text).toContain("Plant cover ready17 days lost");
  const claim = plain(screen.getByRole("complementary", { name: "What the trade says" }));
  expect(claim).toContain("That would be 5 Jan 2027. (common practice, no source)");
  expect(claim).toContain("Our date: 20 May 2027. (worked out from published figures: A book about snails)");
  await accessible(container);
});

it("shows both measures of the build and what its defects period is", async () => {
  const { container } = await show();
  const text = plain(container);
  expect(text).toContain("6.1 m (20 ft)");
  expect(text).toContain("1.5 hp (1.12 kW)");
  expect(text).toContain("6 months, to 1 Jul 2026");
  expect(text).toContain("Well"); // the pack's word
  expect(text).toContain("lined walls, paths, feed platforms");
});

it("asks the farm to do something, shows what it answered, and takes back what is open", async () => {
  const asked = [
    { id: "r1", farm_id: "f1", text: "Close the gap", from: "2026-03-12", due_on: "2026-03-14" },
    {
      id: "r2",
      farm_id: "f1",
      text: "Buy a drum",
      due_on: "2026-03-10",
      answer: "could-not",
      reason: "other",
      note: "None at the market",
      answered_by: "p2",
      answered_on: "2026-03-11",
    },
  ];
  const { container, seen } = await show({
    "GET /api/farms/f1/requests": () => ({ items: asked }),
    "POST /api/farms/f1/requests": () => asked[0],
    "POST /api/requests/r1/withdraw": () => asked[0],
  });
  const part = (await screen.findByRole("heading", { name: "Asked of the farm" }))
    .parentElement as HTMLElement;
  await within(part).findByText("Buy a drum");
  expect(plain(part)).toContain("could not do it, 11 Mar 2026: another reason. None at the market");
  fireEvent.click(within(part).getByRole("button", { name: "Take back: Close the gap" }));
  fireEvent.click(within(part).getByRole("button", { name: "Ask the farm to do something" }));
  fireEvent.input(screen.getByLabelText("What is to be done?"), { target: { value: "Mend the gutter" } });
  fireEvent.input(screen.getByLabelText("By which day?"), { target: { value: "2026-03-20" } });
  await accessible(container);
  fireEvent.click(screen.getByRole("button", { name: "Save" }));
  await waitFor(() => expect(screen.queryByRole("dialog")).toBeNull());
  expect(seen.find((s) => s.path === "/api/requests/r1/withdraw")).toBeTruthy();
  expect(seen.find((s) => s.method === "POST" && s.path === "/api/farms/f1/requests")?.body).toEqual({
    text: "Mend the gutter",
    due_on: "2026-03-20",
  });
});

it("offers what is missing when the go-ahead is refused, and marks it anyway when told to", async () => {
  let tries = 0;
  const { seen } = await show({
    "POST /api/farms/f1/entries": () => {
      tries++;
      if (tries > 1) return {};
      const fields = [
        { path: "data.milestone", code: "item-missing", text: "door-closes <nil> <nil>" },
        { path: "data.milestone", code: "module-missing", text: "<nil> moving-safely <nil>" },
      ];
      return { status: 409, body: { code: "go-ahead-missing", detail: "no", fields } };
    },
  });
  fireEvent.click(screen.getByRole("button", { name: "Mark as done: Ready to stock" }));
  const dialog = screen.getByRole("dialog");
  fireEvent.submit(dialog.querySelector("form") as HTMLFormElement);
  expect(await within(dialog).findByText("The go-ahead does not hold yet.")).toBeTruthy();
  expect(within(dialog).getByText("The door closes")).toBeTruthy();
  expect(within(dialog).getByText("Moving safely")).toBeTruthy();
  fireEvent.click(within(dialog).getByLabelText("Mark it anyway"));
  await act(async () => {
    fireEvent.submit(dialog.querySelector("form") as HTMLFormElement);
  });
  const sent = seen.filter((s) => s.method === "POST").map((s) => s.body as Record<string, unknown>);
  expect(sent).toHaveLength(2);
  expect(sent[0]).toMatchObject({ kind: "milestone", cycle_id: "c1", data: { milestone: "ready-to-stock" } });
  expect(sent[1]).toMatchObject({ data: { anyway: true } });
  expect(sent[1]?.id).not.toBe(sent[0]?.id);
});

it("sends the same entry again under the same id", async () => {
  let tries = 0;
  const { seen } = await show({
    "POST /api/farms/f1/entries": () =>
      ++tries === 1 ? { status: 503, body: { code: "busy", detail: "busy" } } : {},
  });
  fireEvent.click(screen.getByRole("button", { name: "Add a note" }));
  const dialog = screen.getByRole("dialog");
  fireEvent.input(within(dialog).getByLabelText("What is worth keeping?"), { target: { value: "Rain" } });
  const form = dialog.querySelector("form") as HTMLFormElement;
  fireEvent.submit(form);
  await within(dialog).findByRole("alert");
  await act(async () => {
    fireEvent.submit(form);
  });
  const [one, two] = seen.filter((s) => s.method === "POST");
  expect(two?.body).toEqual(one?.body);
  expect(two?.headers["Idempotency-Key"]).toBe(one?.headers["Idempotency-Key"]);
});

it("sets both versions side by side when somebody else has changed the build sheet", async () => {
  const theirs = structuredClone(smallFarm);
  const unit = theirs.units[0];
  if (!unit) throw new Error("the fixture has a unit");
  unit.version = 5;
  unit.build.capacity = 650;
  let changed = false;
  const { seen } = await show({
    "GET /api/farms/f1": () => (changed ? theirs : smallFarm),
    "PUT /api/units/u1": (request) => {
      changed = true;
      return request.headers["If-Match"] === '"5"'
        ? {}
        : { status: 412, body: { code: "stale", detail: "stale" } };
    },
  });
  fireEvent.click(screen.getByRole("button", { name: "Correct the build sheet" }));
  const dialog = screen.getByRole("dialog");
  fireEvent.input(within(dialog).getByLabelText(/Capacity/), { target: { value: "700" } });
  const form = dialog.querySelector("form") as HTMLFormElement;
  fireEvent.submit(form);
  const row = await within(dialog).findByRole("row", { name: /Capacity/ });
  await within(dialog).findByRole("alert");
  expect(plain(row)).toBe("Capacity, as claimed700650");
  await act(async () => {
    fireEvent.submit(form);
  });
  const puts = seen.filter((s) => s.method === "PUT");
  expect(puts.map((p) => p.headers["If-Match"])).toEqual(['"2"', '"5"']);
  expect(puts[1]?.body).toMatchObject({ build: { capacity: 700 } });
});

it("leaves to managers what managers decide", async () => {
  signedIn("field-officer");
  await show();
  expect(screen.queryByRole("button", { name: "Pause the work" })).toBeNull();
  expect(screen.queryByRole("button", { name: "Correct the build sheet" })).toBeNull();
  expect(screen.queryByRole("button", { name: "Plan a visit" })).toBeNull();
  expect(screen.getByRole("button", { name: "Mark as done: Plant cover ready" })).toBeTruthy();
});

it("explains a farm that cannot be read", async () => {
  fakeServer({
    "GET /api/farms/gone": () => ({ status: 404, body: { code: "farm-not-found", detail: "x" } }),
  });
  render(
    <LocationProvider>
      <Farm params={{ id: "gone" }} />
    </LocationProvider>,
  );
  expect(await screen.findByText(/not in your branches/)).toBeTruthy();
});
