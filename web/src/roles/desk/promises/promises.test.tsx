import { fireEvent, render, screen, waitFor } from "@testing-library/preact";
import { LocationProvider } from "preact-iso";
import { beforeEach, describe, expect, it } from "vitest";
import { farmWords } from "../../../farm/words";
import { language } from "../../../i18n/language";
import { KeyHelp } from "../../../keyboard/key-help";
import { accessible } from "../../../testing/axe";
import { smallFarm } from "../../../testing/farm";
import { type FakeServer, fakeServer, signedIn } from "../../../testing/server";
import { isoOf, today } from "../../../time/day";
import { keepFirm } from "../firm";
import type { PromiseLine } from "../server";
import { deskWords } from "../words";
import { PromiseList } from "./promises";
import { promiseQuery, promiseViewOf } from "./views";

const zone = smallFarm.branch.time_zone;
const promise: PromiseLine = {
  id: "pr1",
  call_id: "",
  farm_id: "f1",
  farm: "Sandpit Corner",
  branch_id: "b1",
  kind: "visit",
  text: "Bring the seed",
  due_on: isoOf(today(zone) - 3),
  kept_on: "",
  kept_by: "",
  made_by: "ana",
  maker: "Ana",
  made_on: "2026-03-10",
  version: 2,
};

const text = {
  id: "x1",
  phone: "+999600000077",
  body: "my snails",
  received_at: "2026-03-12T08:00:00Z",
  state: "waiting",
  version: 2,
};

let server: FakeServer;

beforeEach(async () => {
  language.value = "en";
  await Promise.all([deskWords.load("en"), farmWords.load("en")]);
  signedIn("advisor", "ana");
  keepFirm("ana", { branches: [smallFarm.branch], staff: [] });
  server = fakeServer()
    .on("GET /api/promises", { items: [promise] })
    .on("GET /api/texts", { items: [text] })
    .on("POST /api/texts/x1/dealt", { ...text, state: "dealt" })
    .on("POST /api/promises/pr1/kept", { ...promise, kept_on: "2026-03-12" });
});

const show = (view: string) => {
  history.replaceState(null, "", `/desk/promises?view=${view}`);
  return render(
    <LocationProvider>
      <PromiseList />
      <KeyHelp />
    </LocationProvider>,
  );
};

describe("promises", () => {
  it("show the texts of numbers that nobody knows, and take them off the list", async () => {
    server.on("GET /api/call-backs", { on: "2026-03-12", items: [], more: false });
    const { container } = show("call-backs");
    await screen.findByText("my snails");
    expect(screen.getByRole("link", { name: "Note the call" }).getAttribute("href")).toBe(
      "/desk/call?from=%2B999600000077",
    );
    await accessible(container);
    fireEvent.click(screen.getByRole("button", { name: "Called back: +999600000077" }));
    await waitFor(() => expect(server.seen.some((s) => s.path === "/api/texts/x1/dealt")).toBe(true));
  });

  it("stand with their day, in words when late, and lead to the farm with whom they were made", async () => {
    const { container } = show("mine");
    const row = await screen.findByRole("link", { name: /Bring the seed/ });
    expect(row.textContent).toMatch(/\(3\sdays late\)/);
    expect(row.getAttribute("href")).toBe("/desk/farms/f1?who=ana");
    expect(server.asked("GET /api/promises")[0]?.query.toString()).toBe("kept=no&limit=200&mine=true");
    await accessible(container);
  }, 20_000);

  it("are marked as kept by key on the row that has the focus", async () => {
    show("all");
    (await screen.findByRole("link", { name: /Bring the seed/ })).focus();
    fireEvent.keyDown(document.activeElement as Element, { key: "x" });
    await waitFor(() => expect(server.asked("POST /api/promises/pr1/kept")).toHaveLength(1));
    expect(server.asked("POST /api/promises/pr1/kept")[0]?.headers["If-Match"]).toBe('"2"');
  });
});

it("lists the farms to call: promised, quiet, or both", async () => {
  server.on("GET /api/call-backs", {
    on: isoOf(today(zone)),
    more: false,
    items: [
      {
        farm_id: "f1",
        farm: "Sandpit Corner",
        client: "Njoh Family",
        town: "Buea",
        branch_id: "b1",
        due_on: isoOf(today(zone)),
        promises: [promise],
        quiet_days: 9,
        last_heard: "2026-03-03",
        people: [
          { person_id: "p2", name: "Eposi Njoh", phone: "+237550000002", language: "en", in_charge: true },
        ],
      },
    ],
  });
  show("call-backs");
  const row = await screen.findByRole("link", { name: /Sandpit Corner/ });
  expect(row.textContent).toMatch(/Eposi Njoh \+237550000002.*Bring the seed.*nothing heard for 9\sdays/);
  expect(row.getAttribute("href")).toBe("/desk/farms/f1?who=p2");
});

it("asks for a view by its name", () => {
  expect(promiseViewOf("overdue")).toBe("overdue");
  expect(promiseViewOf("never")).toBe("call-backs");
  expect(promiseQuery("today")).toEqual({ kept: "no", limit: 200, due: "today" });
});
