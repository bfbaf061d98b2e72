import { fireEvent, render, screen, waitFor } from "@testing-library/preact";
import { LocationProvider } from "preact-iso";
import { beforeEach, describe, expect, it } from "vitest";
import "fake-indexeddb/auto";
import type { TicketLine } from "../../../api/types";
import { keepPack } from "../../../farm/packs";
import { farmWords } from "../../../farm/words";
import { language } from "../../../i18n/language";
import { KeyHelp } from "../../../keyboard/key-help";
import { accessible } from "../../../testing/axe";
import { ticketLine, ticketThread } from "../../../testing/desk";
import { smallFarm, smallPack } from "../../../testing/farm";
import { heard } from "../../../testing/keys";
import { type FakeServer, fakeServer, signedIn } from "../../../testing/server";
import { keepFirm } from "../firm";
import { deskWords } from "../words";
import { Queue } from "./queue";

let server: FakeServer;
let lines: TicketLine[];

beforeEach(async () => {
  language.value = "en";
  await Promise.all([deskWords.load("en"), farmWords.load("en")]);
  signedIn("advisor", "ana");
  keepFirm("ana", { branches: [smallFarm.branch], staff: [] });
  keepPack("snail", smallPack);
  history.replaceState(null, "", "/desk?view=nobody");
  lines = [
    ticketLine({ id: "t1", number: "17/26", urgency: "animals-at-risk" }),
    ticketLine({ id: "t2", number: "18/26", farm: "Three Palms", title: "The pump has stopped" }),
  ];
  server = fakeServer()
    .on("GET /api/tickets", ({ query }) => ({ items: query.get("farm") ? [] : lines }))
    .on("GET /api/tickets/t2", ticketThread({ id: "t2", number: "18/26" }))
    .on("GET /api/farms/f1", smallFarm);
});

const show = async () => {
  const shown = render(
    <LocationProvider>
      <Queue />
      <KeyHelp />
    </LocationProvider>,
  );
  await screen.findByText("17/26");
  await heard("desk.fresh");
  return shown;
};
const press = (key: string) => fireEvent.keyDown(document.activeElement ?? document.body, { key });
const numbers = () => [...document.querySelectorAll(".row-number")].map((e) => e.textContent);
// A list is read again when one comes back to the page.
const comeBack = () => fireEvent(document, new Event("visibilitychange"));

describe("the queue", () => {
  it("shows each ticket as a strip: urgency, number, farm, state and what it is about", async () => {
    const { container } = await show();
    const [first, second] = screen.getAllByRole("listitem").filter((li) => li.querySelector("a.row"));
    expect(first?.textContent).toMatch(
      /animals at risk17\/26Sandpit Corner.*reported.*16\sdays past its day/,
    );
    expect(second?.textContent).toContain("The pump has stopped");
    await accessible(container);
  }, 20_000);

  it("asks for the view of the address, and another by its key", async () => {
    await show();
    expect(server.asked("GET /api/tickets")[0]?.query.get("nobody")).toBe("true");
    await waitFor(() => {
      press("6");
      expect(location.search).toBe("?view=overdue");
    });
    await waitFor(() => expect(server.asked("GET /api/tickets").at(-1)?.query.get("overdue")).toBe("true"));
  });

  it("never moves under the cursor: new tickets are announced and wait", async () => {
    await show();
    lines = [ticketLine({ id: "t3", number: "19/26", urgency: "person-in-danger" }), ...lines];
    comeBack();
    await waitFor(() => expect(screen.getAllByText("1 new ticket").length).toBeGreaterThan(0));
    expect(numbers()).toEqual(["17/26", "18/26"]);
    press("g");
    expect(numbers()).toEqual(["19/26", "17/26", "18/26"]);
  });

  it("keeps the place of what is gone, and takes the newest of each row", async () => {
    await show();
    lines = [ticketLine({ id: "t2", number: "18/26", state: "in-hand", holder: "Ben" })];
    comeBack();
    expect(await screen.findByText("no longer in this list")).toBeTruthy();
    expect(screen.getByText("Ben")).toBeTruthy();
    expect(numbers()).toEqual(["17/26", "18/26"]);
  });

  it("moves by J, K and the arrows, and opens beside the list", async () => {
    await show();
    await waitFor(() => {
      press("j");
      expect(document.activeElement?.textContent).toContain("17/26");
    });
    press("ArrowDown");
    expect(document.activeElement?.textContent).toContain("18/26");
    press("k");
    expect(document.activeElement?.textContent).toContain("17/26");
    press("j");
    fireEvent.click(document.activeElement as Element);
    expect(await screen.findByRole("heading", { name: "Ticket 18/26" })).toBeTruthy();
    expect(location.search).toBe("?view=nobody&ticket=t2");
    expect(document.querySelector("[aria-current=true]")?.textContent).toContain("18/26");
  });

  it("says what an empty view means", async () => {
    lines = [];
    render(
      <LocationProvider>
        <Queue />
      </LocationProvider>,
    );
    expect(await screen.findByText("Every open ticket is in somebody's hands.")).toBeTruthy();
  });
});
