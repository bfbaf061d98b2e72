import { fireEvent, render, screen, waitFor, within } from "@testing-library/preact";
import { LocationProvider } from "preact-iso";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { keepPack } from "../../../farm/packs";
import { farmWords } from "../../../farm/words";
import { language } from "../../../i18n/language";
import { KeyHelp } from "../../../keyboard/key-help";
import { accessible } from "../../../testing/axe";
import { ticketEvent, ticketThread } from "../../../testing/desk";
import { smallFarm, smallPack } from "../../../testing/farm";
import { heard } from "../../../testing/keys";
import { type FakeServer, fakeServer, problem, signedIn } from "../../../testing/server";
import { keepFirm } from "../firm";
import { deskWords } from "../words";
import { TicketPane } from "./pane";

const staff = (id: string, name: string) => ({
  id,
  name,
  phone: "",
  language: "en",
  active: true,
  version: 1,
  grants: [{ role: "advisor", branch_id: "" }],
});

let server: FakeServer;
const changed = vi.fn();

beforeEach(async () => {
  language.value = "en";
  await Promise.all([deskWords.load("en"), farmWords.load("en")]);
  signedIn("advisor", "ana");
  keepFirm("ana", { branches: [smallFarm.branch], staff: [staff("ana", "Ana"), staff("ben", "Ben")] });
  keepPack("snail", smallPack);
  changed.mockReset();
  server = fakeServer()
    .on("GET /api/farms/f1", smallFarm)
    .on("GET /api/tickets", { items: [] })
    .on("GET /api/tickets/t1", ticketThread());
});

const show = async () => {
  const shown = render(
    <LocationProvider>
      <TicketPane id="t1" changed={changed} />
      <KeyHelp />
    </LocationProvider>,
  );
  await screen.findByRole("heading", { name: "Ticket 17/26" });
  await heard("desk.farm");
  return shown;
};
const press = (key: string, more: KeyboardEventInit = {}) =>
  fireEvent.keyDown(document.activeElement ?? document.body, { key, ...more });
const send = () => press("Enter", { ctrlKey: true });
const moves = () =>
  within(document.querySelector<HTMLElement>(".moves") as HTMLElement)
    .getAllByRole("button")
    .map((b) => b.textContent);

describe("a ticket beside the queue", () => {
  it("says why it is open, what is due and whom to call", async () => {
    const { container } = await show();
    expect(screen.getByText(/Plant cover ready is 16 days past its day/)).toBeTruthy();
    expect(screen.getByText(/^When it was opened, 12\sMar\s2026, and still at the last sweep$/)).toBeTruthy();
    expect(await screen.findByText("+237550000002")).toBeTruthy();
    expect(document.activeElement?.textContent).toBe("Ticket 17/26");
    await accessible(container);
  });

  it("offers only what is allowed, each with its key", async () => {
    await show();
    expect(moves()).toEqual([
      "Assess A",
      "Take in hand T",
      "Settle S",
      "Hand over H",
      "Move the due time D",
      "Note N",
      "Message to the farm M",
      "Ask the farm to do it E",
    ]);
  });

  it("asks the farm to do something by a day, and tells its answer in words", async () => {
    const line = (kind: string, text: string, data: Record<string, unknown>, person_id = "ana") => ({
      id: kind,
      kind,
      text,
      data,
      person_id,
      at: "2026-03-12T09:00:00Z",
      on: "2026-03-12",
      from: "reported",
      to: "reported",
      ticket_id: "t1",
    });
    const events = [
      line("asked", "Put the feed into a drum", { due_on: "2026-03-14" }),
      line("answered", "No drum", { done: false, reason: "other", asked: "Put the feed into a drum" }, "p2"),
    ];
    server.on("POST /api/tickets/t1/ask", ticketThread({ version: 2, events }));
    await show();
    press("e");
    fireEvent.input(screen.getByLabelText("What is to be done?"), {
      target: { value: "Put the feed into a drum" },
    });
    fireEvent.input(screen.getByLabelText("By which day?"), { target: { value: "2026-03-14" } });
    send();
    await screen.findByText("It stands on the caretaker’s day. The answer comes to 17/26.");
    expect(server.asked("POST /api/tickets/t1/ask")[0]?.body).toEqual({
      text: "Put the feed into a drum",
      due_on: "2026-03-14",
    });
    expect(screen.getByText(/could not do it, another reason \(Put the feed into a drum\)/)).toBeTruthy();
    expect(screen.getByText(/asked the farm to do this by 14\sMar\s2026/)).toBeTruthy();
  });

  it("is taken in hand by one key", async () => {
    server.on("POST /api/tickets/t1/move", ticketThread({ state: "in-hand", holder_id: "ana", version: 2 }));
    await show();
    press("t");
    await waitFor(() => expect(changed).toHaveBeenCalled());
    expect(server.asked("POST /api/tickets/t1/move")[0]).toMatchObject({
      body: { to: "in-hand" },
      headers: { "If-Match": '"1"' },
    });
  });

  it("asks why where an assessment differs, and shows what it comes to", async () => {
    server.on("POST /api/tickets/t1/assess", ticketThread({ state: "assessed", version: 2 }));
    const { container } = await show();
    press("a");
    fireEvent.click(screen.getByLabelText(/^high/));
    const form = screen.getByRole("form", { name: "Assess" });
    expect(within(form).getByText("animals at risk")).toBeTruthy();
    await accessible(container);
    send();
    expect(await screen.findByText("Fill this in.")).toBeTruthy();
    expect(server.asked("POST /api/tickets/t1/assess")).toEqual([]);
    fireEvent.input(screen.getByLabelText("Why do you see it differently?"), {
      target: { value: "The tank is dry" },
    });
    send();
    await waitFor(() => expect(changed).toHaveBeenCalled());
    expect(server.asked("POST /api/tickets/t1/assess")[0]?.body).toEqual({
      impact: "high",
      time_to_loss: "week",
      danger: false,
      why: "The tank is dry",
    });
    expect(document.activeElement?.textContent).toBe("Ticket 17/26");
  });

  it("keeps what was typed when a form is closed by Escape", async () => {
    await show();
    press("n");
    fireEvent.input(screen.getByRole("textbox", { name: "Note" }), { target: { value: "Ring at noon" } });
    press("Escape");
    expect(screen.queryByRole("form")).toBeNull();
    press("n");
    expect(screen.getByRole<HTMLTextAreaElement>("textbox", { name: "Note" }).value).toBe("Ring at noon");
  });

  it("tells notes inside the firm from words with the farm", async () => {
    const events = [
      ticketEvent({ id: "e1", kind: "opened", data: { origin: "sweep" } }),
      ticketEvent({ id: "e2", kind: "note", person_id: "ben", text: "They never answer" }),
      ticketEvent({ id: "e3", kind: "message", person_id: "ana", text: "We come on Friday" }),
      ticketEvent({ id: "e4", kind: "message", person_id: "p2", text: "Thank you" }),
    ];
    server.on("GET /api/tickets/t1", ticketThread({ events }));
    await show();
    const inside = screen.getByRole("note", { name: "Inside the firm" });
    expect(inside.textContent).toContain("They never answer");
    expect(screen.getByText("We come on Friday").closest("blockquote")?.textContent).toContain(
      "the farm reads this",
    );
    await waitFor(() =>
      expect(screen.getByText("Thank you").closest("li")?.textContent).toMatch(
        /Eposi Njoh wrote.*from the farm/,
      ),
    );
  });
});

describe("when somebody was faster", () => {
  const taken = ticketThread({
    state: "in-hand",
    holder_id: "ben",
    holder: "Ben",
    version: 2,
    events: [
      ticketEvent({ id: "e1", kind: "opened", data: { origin: "sweep" } }),
      ticketEvent({ id: "e2", kind: "moved", person_id: "ben", from: "reported", to: "in-hand" }),
    ],
  });
  const beaten = async () => {
    server.on("POST /api/tickets/t1/move", problem(412, "stale"));
    const shown = await show();
    press("s");
    fireEvent.input(screen.getByLabelText("How did it end?"), { target: { value: "Planted" } });
    server.on("GET /api/tickets/t1", taken);
    send();
    await screen.findByRole("region", { name: "Someone was faster" });
    await screen.findByRole("button", { name: "Send mine on top of it" });
    return shown;
  };

  it("shows both versions and what was written", async () => {
    const { container } = await beaten();
    const box = screen.getByRole("region", { name: "Someone was faster" });
    await within(box).findByText("Ben took it in hand");
    const rows = within(box)
      .getAllByRole("row")
      .slice(1)
      .map((r) => r.textContent);
    expect(rows).toEqual(["Statereportedin hand", "In the hands ofnobodyBen"]);
    expect(within(box).getByText("Planted")).toBeTruthy();
    await accessible(container);
  });

  it("sends mine on top of the newer version when asked to", async () => {
    await beaten();
    await screen.findByText("Ben took it in hand", { selector: ".conflict *" });
    server.on("POST /api/tickets/t1/move", ticketThread({ state: "settled", version: 3 }));
    fireEvent.click(screen.getByRole("button", { name: "Send mine on top of it" }));
    await waitFor(() => expect(server.asked("POST /api/tickets/t1/move")).toHaveLength(2));
    expect(server.asked("POST /api/tickets/t1/move")[1]).toMatchObject({
      headers: { "If-Match": '"2"' },
      body: { to: "settled", outcome: "Planted" },
    });
  });

  it("leaves theirs alone when asked to", async () => {
    await beaten();
    fireEvent.click(screen.getByRole("button", { name: "Leave it as it is now" }));
    expect(screen.queryByRole("region", { name: "Someone was faster" })).toBeNull();
    expect(server.asked("POST /api/tickets/t1/move")).toHaveLength(1);
  });
});

it("is complete in French", async () => {
  await Promise.all([deskWords.load("fr"), farmWords.load("fr")]);
  language.value = "fr";
  render(
    <LocationProvider>
      <TicketPane id="t1" changed={changed} />
    </LocationProvider>,
  );
  await screen.findByRole("heading", { name: "Dossier 17/26" });
  expect(moves()[0]).toBe("Évaluer A");
  expect(screen.getByText(/et encore à la dernière revue/)).toBeTruthy();
});
