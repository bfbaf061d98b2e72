import "fake-indexeddb/auto";
import { act, cleanup, fireEvent, render, screen } from "@testing-library/preact";
import { LocationProvider } from "preact-iso";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { begin } from "../../api/session";
import { language, speak } from "../../i18n/language";
import { wipe } from "../../offline/db";
import { entries, flush } from "../../offline/outbox";
import { accessible } from "../../testing/axe";
import { fakeLocks } from "../../testing/locks";
import { Shown } from "../../testing/pages";
import { aDay, aFarm, aStockedFarm, someBook, someCards } from "../../testing/today";
import { book, cards, type TodayPage, today } from "./data";
import { type FarmEntry, farmEntryOf } from "./entry";
import { pages } from "./pages";
import { phoneWords } from "./words";

let day: TodayPage = aDay(aFarm());
const answer = async (url: string) => {
  if (url.startsWith("/api/today")) return new Response(JSON.stringify(day));
  if (url.startsWith("/api/book")) return new Response(JSON.stringify(someBook));
  if (url.startsWith("/api/first-steps")) return new Response(JSON.stringify(someCards));
  throw new TypeError("no network");
};
const fetched = vi.fn(answer);
const signIn = (id: string) =>
  begin({
    access_token: "t",
    person: { id, name: id, language: "en", grants: [{ role: "caretaker", branch_id: "" }] },
  });

beforeEach(async () => {
  vi.useFakeTimers({ now: new Date("2026-03-12T09:00:00Z"), toFake: ["Date"] });
  vi.stubGlobal("fetch", fetched);
  vi.stubGlobal("navigator", { locks: fakeLocks(), onLine: false });
  await wipe();
  signIn("p1");
  day = aDay(aFarm());
  await Promise.all([phoneWords.load("en"), phoneWords.load("fr")]);
  language.value = "en";
  await flush();
});
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

async function at(path: string) {
  history.replaceState(null, "", path);
  await Promise.all([today.bring(), cards.bring(), book.bring()]);
  const drawn = render(
    <LocationProvider>
      <Shown pages={pages} />
    </LocationProvider>,
  );
  await screen.findByRole("heading", { level: 1 });
  return drawn;
}

const press = (name: string | RegExp) => {
  act(() => void fireEvent.click(screen.getByRole("button", { name })));
};
const type = (name: string | RegExp, value: string) => {
  act(() => void fireEvent.input(screen.getByRole("textbox", { name }), { target: { value } }));
};

async function said(): Promise<FarmEntry> {
  await vi.waitFor(() => expect(entries.value).toHaveLength(1));
  return farmEntryOf(entries.value[0] as never) as FarmEntry;
}

it.each([
  "/today",
  "/today/trouble",
  "/today/help",
  "/today/daybook",
  "/today/could-not",
  "/today/could-not/work%3Ay1%3Aclean",
  "/today/next",
  "/today/task/y1/clean",
  "/today/weigh/y1",
  "/today/modules",
  "/today/list/y1/readiness",
  "/today/item/y1/readiness/soil-moist",
  "/today/item/y1/readiness/plant-cover",
  "/today/milestone/y1/cover-ready",
  "/today/module/snail/feeding",
  "/today/reading/y1",
  "/today/plan/y1",
  "/today/reports",
  "/today/cards",
  "/today/sign/snail/electric-shock",
  "/today/sent",
  "/today/trouble/words",
  "/today/missing",
])(
  "%s is accessible in both languages",
  async (path) => {
    const { container } = await at(path);
    await accessible(container);
    await act(() => speak("fr"));
    await accessible(container);
  },
  20_000,
);

it("says all well in one press", async () => {
  await at("/today");
  press("All well today");
  const entry = await said();
  expect(entry).toMatchObject({ farm_id: "f1", kind: "day", on: "2026-03-12", data: { all_well: true } });
  expect(entry.id).toBe(entries.value[0]?.id);
  await screen.findByText("Today’s daybook is kept");
});

it("promises no dead where animals live", async () => {
  day = aDay(aFarm({ stocked: true }));
  await at("/today");
  screen.getByRole("button", { name: "All well today: no deaths" });
});

it("leaves out of the daybook what was not counted, and takes none for nought", async () => {
  await at("/today/daybook");
  press("Keep");
  expect(screen.getByRole("alert").textContent).toContain("Fill in one thing");
  press("None: Dead");
  type(/Feed given/, "1,5");
  press("Keep");
  expect((await said()).data).toEqual({ deaths: 0, feed_kg: 1.5 });
});

it("keeps nothing while a count cannot be right, and loses nothing that was typed", async () => {
  await at("/today/daybook");
  type(/^Dead/, "two");
  type(/Feed given/, "1,5");
  press("Keep");
  expect(screen.getByRole<HTMLInputElement>("textbox", { name: /^Dead/ }).value).toBe("two");
  await vi.waitFor(() => expect(document.activeElement?.getAttribute("aria-invalid")).toBe("true"));
  expect(entries.value).toEqual([]);
  type(/^Dead/, "2");
  press("Keep");
  expect((await said()).data).toEqual({ deaths: 2, feed_kg: 1.5 });
});

it.each([
  ["/today/reading/y1", "Keep"],
  ["/today/trouble/words", "Keep"],
])("says what is missing at %s", async (path, button) => {
  await at(path);
  press(button);
  await screen.findByText("Fill this in.");
  expect(entries.value).toEqual([]);
});

it("takes no day that has not come yet", async () => {
  await at("/today/could-not");
  const day = screen.getByLabelText("On which day?");
  act(() => void fireEvent.input(day, { target: { value: "2026-03-13" } }));
  press("I was ill");
  await screen.findByText(/This day has not come yet/);
  expect(entries.value).toEqual([]);
});

it("corrects the first daybook of a day by the second", async () => {
  await at("/today/daybook/2026-03-10");
  type(/^Dead/, "2");
  press("Keep");
  const first = await said();
  expect(first).toMatchObject({ on: "2026-03-10", data: { deaths: 2 } });
  cleanup();
  await at("/today/daybook/2026-03-10");
  type(/^Dead/, "3");
  press("Keep");
  await vi.waitFor(() => expect(entries.value).toHaveLength(2));
  expect(farmEntryOf(entries.value[1] as never)?.replaces).toBe(first.id);
});

it("reports trouble in the second press and says what to do", async () => {
  await at("/today/trouble");
  press("Someone got a shock");
  expect(await said()).toMatchObject({
    kind: "trouble",
    unit_id: "u1",
    cycle_id: "y1",
    data: { sign: "electric-shock" },
  });
  await screen.findByText("Do not touch the person or the water.");
  screen.getByText("NOT SENT. Do this now, then go where there is network and call.");
  expect(screen.getByRole("link", { name: /Call Ana Ekema now/ }).getAttribute("href")).toBe(
    "tel:+999670000004",
  );
});

it("takes a picture of a sign onto its report, never where a person is in danger", async () => {
  await at("/today/trouble");
  press("Ants in the house");
  const report = await said();
  await screen.findByRole("heading", { name: "Show us, if it is safe" });
  expect(report.data).toEqual({ sign: "ants" });
  cleanup();
  await at("/today/trouble");
  press("Someone got a shock");
  await screen.findByText("Do not touch the person or the water.");
  expect(screen.queryByText("Show us, if it is safe")).toBeNull();
});

it("goes from item to item and shows what was said", async () => {
  await at("/today/item/y1/readiness/soil-moist");
  press("Yes");
  expect(await said()).toMatchObject({
    kind: "item",
    cycle_id: "y1",
    data: { item: "soil-moist", answer: "yes" },
  });
  await screen.findByText("Plants cover 70 per cent.");
  type(/Measured/, "60");
  press("Keep");
  await vi.waitFor(() => expect(entries.value).toHaveLength(2));
  expect(farmEntryOf(entries.value[1] as never)?.data).toEqual({ item: "plant-cover", value: 60 });
  await screen.findByText("This list is done. Thank you.");
});

it("marks a milestone on the day that is stated", async () => {
  await at("/today/milestone/y1/cover-ready");
  act(() => void fireEvent.click(screen.getByRole("button", { name: "Yesterday" })));
  press("It is done");
  expect(await said()).toMatchObject({
    kind: "milestone",
    on: "2026-03-11",
    data: { milestone: "cover-ready" },
  });
});

it("keeps a module that was gone through waiting for the practical check", async () => {
  await at("/today/module/snail/feeding");
  press("I have gone through it");
  expect((await said()).data).toEqual({ enterprise: "snail", module: "feeding" });
  await screen.findByText("waits to be shown");
});

it("has a reason for the day that was not done", async () => {
  await at("/today/could-not");
  press("Rain or flood");
  expect(await said()).toMatchObject({ kind: "could-not", data: { reason: "rain" } });
});

it("asks to be called back once", async () => {
  await at("/today/help");
  press(/Call me back/);
  expect((await said()).kind).toBe("call-me");
  await screen.findByText("You asked us to call you back.");
});

it("tells who saw a report and takes an answer", async () => {
  const report = {
    id: "t1",
    number: "417/26",
    text: "Ants",
    state: "in-hand",
    holder: "Ana Ekema",
    opened_at: "2026-03-12T09:00:00Z",
    seen_by: "Ana Ekema",
    seen_at: "2026-03-12T09:40:00Z",
    messages: [{ id: "m1", from: "Ana Ekema", at: "2026-03-12T09:45:00Z", text: "Find the trail." }],
  };
  day = aDay(aFarm({ reports: [report] }));
  await at("/today/report/t1");
  const text = document.body.textContent?.replace(/\u00a0/g, " ");
  expect(text).toContain("Your report no. 417/26");
  expect(text).toContain("in hand, in Ana Ekema’s hands");
  expect(text).toContain("Ana Ekema saw this, 12 Mar 2026, 10:40");
  type(/Write to us/, "Done.");
  press("Send");
  await vi.waitFor(() => expect(entries.value).toHaveLength(1));
  expect(entries.value[0]).toMatchObject({ path: "/api/tickets/t1/say", body: { text: "Done." } });
});

it("says so where the phone has never read a farm, and where there is none", async () => {
  signIn("p2");
  fetched.mockImplementation(async () => Promise.reject(new TypeError("no network")));
  await at("/today");
  await screen.findByText(/has not been able to read your farm yet/);
  screen.getByText(/Check the network/);
  cleanup();
  fetched.mockImplementation(answer);
  day = aDay();
  await at("/today");
  await screen.findByText(/No farm is named for you/);
});

it("chooses among farms", async () => {
  day = aDay(aFarm(), aFarm({ id: "f2", name: "Riverside" }));
  await at("/today");
  act(() => void fireEvent.change(screen.getByLabelText("Farm"), { target: { value: "f2" } }));
  expect(screen.getByRole("heading", { level: 2, name: "Riverside" })).toBeTruthy();
  act(() => void fireEvent.change(screen.getByLabelText("Farm"), { target: { value: "f1" } }));
});

it("asks back what is unlikely and refuses what cannot be", async () => {
  day = aDay(aStockedFarm());
  await at("/today/daybook");
  type(/^Dead/, "5000");
  await screen.findByText(/there were never more than/);
  type(/^Dead/, "31");
  press("Keep");
  await screen.findByText("Dead: 31. That is unusual.");
  expect(entries.value).toEqual([]);
  press("No, I change it");
  press("Keep");
  press("Yes, it is right");
  expect((await said()).data).toEqual({ deaths: 31, sure: ["deaths"] });
});

it("mends a past day from what it said", async () => {
  day = aDay(aStockedFarm({ days: [{ id: "d1", on: "2026-03-10", data: { all_well: true, feed_kg: 2 } }] }));
  await at("/today/daybook/2026-03-10");
  await screen.findByText(/This day was told before/);
  type(/^Dead/, "1");
  press("Keep");
  const entry = await said();
  expect(entry).toMatchObject({ replaces: "d1", on: "2026-03-10", data: { deaths: 1, feed_kg: 2 } });
});

it("warns of a sale while a treatment runs", async () => {
  const [unit] = aStockedFarm().units;
  day = aDay(aStockedFarm({ units: unit ? [{ ...unit, no_sale_until: "2026-03-20" }] : [] }));
  await at("/today/daybook");
  act(() => void fireEvent.click(screen.getByText("Harvest and sale")));
  type(/^Taken out/, "5");
  press("Keep");
  await screen.findAllByText(/nothing is sold before/);
  expect(entries.value).toEqual([]);
});

it("weighs one animal a step and says mean and spread", async () => {
  day = aDay(aStockedFarm());
  await at("/today/weigh/y1");
  for (const weight of ["30", "34", "38"]) {
    for (const figure of weight) press(figure);
    press("Next");
  }
  await screen.findByText(/3 weighed. One weighs 34.g on average./);
  screen.getByText(/About two in three weigh between 30.g and 38.g./);
  press("Keep");
  expect((await said()).data).toEqual({ weights_g: [30, 34, 38] });
});

it("goes through the day one by one, puts off, and says why not", async () => {
  day = aDay(aStockedFarm());
  await at("/today/next");
  screen.getByRole("button", { name: "All well today: no deaths" });
  press("Later");
  await screen.findByRole("heading", { level: 2, name: "Plant cover ready" });
  cleanup();
  await at("/today/could-not/work%3Ay1%3Aread-cover");
  press("Rain or flood");
  expect((await said()).data).toEqual({ reason: "rain", task: "work:y1:read-cover" });
});

it("shows what the firm asks for from its day on, and takes either answer", async () => {
  const ask = (id: string, text: string, more = {}) => ({
    id,
    text,
    due_on: "2026-03-10",
    by: "Ana Ekema",
    ...more,
  });
  day = aDay(
    aFarm({ requests: [ask("r1", "Close the gap"), ask("r2", "Weigh ten", { from: "2026-03-20" })] }),
  );
  await at("/today");
  expect(screen.queryByText("Weigh ten")).toBeNull();
  expect(screen.getByRole("link", { name: /Close the gap/ }).getAttribute("href")).toBe("/today/asked/r1");
  cleanup();
  await at("/today/asked/r1");
  await screen.findByRole("heading", { level: 1, name: "We ask you to do this" });
  screen.getByText(/It was to be done by 10.Mar.2026/);
  await accessible(document.body);
  type(/^A few words/, "With mesh");
  press("Done");
  expect(await said()).toMatchObject({ kind: "request", data: { request: "r1", note: "With mesh" } });
  expect(screen.queryByText("Close the gap")).toBeNull();
});

it("says why what the firm asked for could not be done", async () => {
  day = aDay(aFarm({ requests: [{ id: "r1", text: "Close the gap", due_on: "2026-03-14", by: "" }] }));
  await at("/today/asked/r1");
  const why = screen.getByRole("link", { name: "I could not do it" }).getAttribute("href") ?? "";
  cleanup();
  await at(why);
  await screen.findByText("Close the gap");
  press("Something else");
  expect(await said()).toMatchObject({
    kind: "could-not",
    data: { task: "request:r1", reason: "other" },
  });
});

it("keeps that a piece of work was done", async () => {
  await at("/today/task/y1/clean");
  press("Done");
  expect(await said()).toMatchObject({ kind: "work", cycle_id: "y1", data: { work: "clean" } });
});

it("has a text to send where a call does not get through", async () => {
  await at("/today/help");
  expect(screen.getByRole("link", { name: "Text Ana Ekema" }).getAttribute("href")).toMatch(
    /^sms:\+999670000004\?body=Hillside/,
  );
});
