import "fake-indexeddb/auto";
import { fireEvent, render, screen, waitFor } from "@testing-library/preact";
import { LocationProvider } from "preact-iso";
import { beforeEach, describe, expect, it } from "vitest";
import { keepPack } from "../../../farm/packs";
import { farmWords } from "../../../farm/words";
import { language } from "../../../i18n/language";
import { KeyHelp } from "../../../keyboard/key-help";
import { accessible } from "../../../testing/axe";
import { ticketLine } from "../../../testing/desk";
import { smallFarm, smallPack } from "../../../testing/farm";
import { heard } from "../../../testing/keys";
import { fakeServer, signedIn } from "../../../testing/server";
import { keepFirm } from "../firm";
import { deskWords } from "../words";
import { Brief } from "./brief";

const call = {
  id: "c1",
  farm_id: "f1",
  person_id: "p2",
  person: "Eposi Njoh",
  phone: "",
  channel: "phone",
  said: "Few eggs",
  advice: "More lime on the soil",
  ticket_id: "",
  ticket: "",
  taken_by: "ben",
  taker: "Ben",
  farm: "Sandpit Corner",
  started_at: "2026-03-02T09:00:00Z",
  version: 1,
  promises: [],
};

beforeEach(async () => {
  language.value = "en";
  await Promise.all([deskWords.load("en"), farmWords.load("en")]);
  signedIn("advisor", "ana");
  keepFirm("ana", { branches: [smallFarm.branch], staff: [] });
  keepPack("snail", smallPack);
  const [unit] = smallFarm.units;
  if (!unit) throw new Error("the small farm has a unit");
  const batch = {
    id: "b1",
    unit_id: "u1",
    cycle_id: "c1",
    species: "archachatina-marginata",
    count: 400,
    mean_weight_g: 35,
    stocked_on: "2026-03-01",
    source: "",
  };
  fakeServer()
    .on("GET /api/farms/f1", { ...smallFarm, units: [{ ...unit, batches: [batch] }] })
    .on("GET /api/tickets", { items: [ticketLine()] })
    .on("GET /api/calls", { items: [{ ...call, id: "c2", advice: "" }, call] })
    .on("GET /api/promises", { items: [] });
});

const show = async (query: string) => {
  history.replaceState(null, "", `/desk/farms/f1${query}`);
  const shown = render(
    <LocationProvider>
      <Brief params={{ id: "f1" }} />
      <KeyHelp />
    </LocationProvider>,
  );
  await screen.findByText("Caretaker");
  await heard("desk.part.calls");
  return shown;
};
const line = (name: string) => {
  const term = [...document.querySelectorAll("dt")].find((dt) => dt.textContent === name);
  return term?.nextElementSibling?.textContent ?? "";
};

describe("the farm brief", () => {
  it("has six lines that are always there", async () => {
    const { container } = await show("?who=p2");
    const names = [...document.querySelectorAll("dt")].map((dt) => dt.textContent);
    expect(names).toEqual(["Who", "Schedule", "Stock", "Tickets", "Said", "Caretaker"]);
    expect(line("Who")).toMatch(/^Eposi Njoh.*in charge since 5\sJan\s2026.*\+237550000002.*speaks English$/);
    expect(line("Schedule")).toMatch(/House 1behind.*24\sdays late.*held up by: Plant cover ready/);
    expect(line("Schedule")).toMatch(/most likely 20\sMay\s2027, 9\stimes in\s10 before/);
    expect(line("Stock")).toMatch(/400 Archachatina marginata since 1\sMar\s2026.*35\sg/);
    expect(line("Tickets")).toMatch(/losing time17\/26Plant cover ready is 16/);
    expect(line("Said")).toMatch(/^More lime on the soil 2\sMar\s2026, Benno promise open$/);
    expect(line("Caretaker")).toMatch(
      /Eposi Njoh0 of 2 modules passed.*lacks Feeding.*Moving safely lapsed 1\sFeb\s2026/,
    );
    await accessible(container);
  }, 20_000);

  it("says so where the caller is not known", async () => {
    await show("?phone=%2B2375");
    expect(line("Who")).toBe("+2375 someone we do not know; say in the note who it is");
  });

  it("shows the rest by key, one part at a time", async () => {
    await show("");
    await waitFor(() => expect(document.activeElement?.tagName).toBe("TEXTAREA"));
    fireEvent.keyDown(document.activeElement as Element, { key: "Escape" });
    fireEvent.keyDown(document.body, { key: "c" });
    const calls = screen.getByRole("region", { name: "More of this farm: Calls" });
    expect(calls.textContent).toContain("Few eggs");
    fireEvent.keyDown(document.body, { key: "m" });
    // The part comes in a chunk of its own.
    const mark = { name: "Mark as done: Plant cover ready" };
    expect(await screen.findByRole("button", mark, { timeout: 15_000 })).toBeTruthy();
    expect(screen.queryByRole("region", { name: "More of this farm: Calls" })).toBeNull();
  }, 20_000);
});
