import "fake-indexeddb/auto";
import { fireEvent, render, screen, waitFor, within } from "@testing-library/preact";
import { LocationProvider } from "preact-iso";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { keepPack } from "../../../farm/packs";
import { farmWords } from "../../../farm/words";
import { language } from "../../../i18n/language";
import { KeyHelp } from "../../../keyboard/key-help";
import { wipe } from "../../../offline/db";
import { accessible } from "../../../testing/axe";
import { ticketLine } from "../../../testing/desk";
import { smallFarm, smallPack } from "../../../testing/farm";
import { heard } from "../../../testing/keys";
import { type FakeServer, fakeServer, problem, signedIn } from "../../../testing/server";
import { isoOf, today } from "../../../time/day";
import { keepFirm } from "../firm";
import { deskWords } from "../words";
import { CallForm, type CallFormProps } from "./call-form";
import { newDraft } from "./draft";
import { keepDraft, readDrafts } from "./kept";

const text = (en: string) => ({ en, fr: en });
const sign = {
  key: "no-water",
  text: text("No water, or the pump has stopped."),
  first_words: text("Switch off before you touch it."),
  likely: text("a blown fuse"),
  impact: "high",
  time_to_loss: "hours",
  danger: false,
  grade: "common-practice",
  caution: "electric-pump",
};
const promise = {
  id: "pr1",
  call_id: "",
  farm_id: "f1",
  kind: "call-back",
  text: "Ring about the seed",
  due_on: "2026-03-12",
  kept_on: "",
  kept_by: "",
  made_by: "ana",
  made_on: "2026-03-10",
  version: 2,
};
const noted = { id: "c1", ticket_id: "", ticket: "", promises: [] };

let server: FakeServer;
const onSent = vi.fn();

beforeEach(async () => {
  language.value = "en";
  await Promise.all([deskWords.load("en"), farmWords.load("en")]);
  await wipe();
  signedIn("advisor", "ana");
  keepFirm("ana", { branches: [smallFarm.branch], staff: [] });
  keepPack("snail", {
    ...smallPack,
    signs: [sign],
    cautions: { "electric-pump": text("A licensed electrician works on it.") },
  });
  onSent.mockReset();
  server = fakeServer().on("POST /api/calls", noted).on("POST /api/promises/pr1/kept", promise);
});

const show = async (more: Partial<CallFormProps> = {}) => {
  const shown = render(
    <LocationProvider>
      <CallForm
        farmId="f1"
        farm={smallFarm}
        tickets={[]}
        who="p2"
        phone=""
        promises={[]}
        onSent={onSent}
        {...more}
      />
      <KeyHelp />
    </LocationProvider>,
  );
  await heard("desk.note");
  expect(document.activeElement).toBe(screen.getByLabelText("What was said"));
  return shown;
};
const fill = (label: string | RegExp, value: string) =>
  fireEvent.input(screen.getByLabelText(label), { target: { value } });
const choose = (label: string | RegExp, value: string) =>
  fireEvent.change(screen.getByLabelText(label), { target: { value } });
const press = (key: string, more: KeyboardEventInit = {}) =>
  fireEvent.keyDown(document.activeElement ?? document.body, { key, ...more });
const send = () => press("Enter", { ctrlKey: true });
const sentBody = () => server.asked("POST /api/calls")[0]?.body;

describe("a call note", () => {
  it("begins where one writes, with the caller known, and is sent by Ctrl+Enter", async () => {
    const { container } = await show();
    expect(document.activeElement).toBe(screen.getByLabelText("What was said"));
    expect(screen.getByLabelText<HTMLSelectElement>("Who").value).toBe("p2");
    fill("What was said", "All eggs are in");
    await accessible(container);
    send();
    await waitFor(() => expect(onSent).toHaveBeenCalledWith({}));
    expect(sentBody()).toMatchObject({
      farm_id: "f1",
      person_id: "p2",
      channel: "phone",
      said: "All eggs are in",
    });
  }, 20_000);

  it("names what is missing and goes there", async () => {
    await show();
    send();
    expect(await screen.findByText("Write in a few words what was said.")).toBeTruthy();
    expect(server.asked("POST /api/calls")).toEqual([]);
    await waitFor(() => expect(document.activeElement).toBe(screen.getByLabelText("What was said")));
  });

  it("gives the first words for a sign, and its judgement to the ticket", async () => {
    server.on("POST /api/calls", { ...noted, ticket_id: "t9", ticket: "9/26" });
    const { container } = await show();
    fill("What was said", "The pump is dead");
    choose(/What they see/, "no-water");
    expect(screen.getByText("Switch off before you touch it.")).toBeTruthy();
    expect(screen.getByText(/A licensed electrician works on it/)).toBeTruthy();
    expect(screen.getByLabelText<HTMLInputElement>(/What is wrong/).value).toBe(
      "No water, or the pump has stopped",
    );
    expect(screen.getByText("animals at risk")).toBeTruthy();
    choose("Unit", "u1");
    await accessible(container);
    send();
    await waitFor(() =>
      expect(onSent).toHaveBeenCalledWith({ ticket: { id: "t9", number: "9/26", how: "opened" } }),
    );
    expect(sentBody()).toMatchObject({
      ticket: {
        title: "No water, or the pump has stopped",
        unit_id: "u1",
        impact: "high",
        time_to_loss: "hours",
      },
    });
  }, 20_000);

  it("settles a simple question in the same step", async () => {
    server.on("POST /api/calls", { ...noted, ticket_id: "t9", ticket: "9/26" });
    await show();
    fill("What was said", "May they eat pawpaw leaves?");
    fill(/Advice given/, "Yes, washed");
    press("F9");
    send();
    await waitFor(() =>
      expect(onSent).toHaveBeenCalledWith({ ticket: { id: "t9", number: "9/26", how: "settled" } }),
    );
    expect(sentBody()).toMatchObject({
      ticket: { title: "May they eat pawpaw leaves?", outcome: "Yes, washed" },
    });
  });

  it("goes on an open ticket of the farm", async () => {
    server.on("POST /api/calls", { ...noted, ticket_id: "t1", ticket: "17/26" });
    await show({ tickets: [ticketLine()] });
    fill("What was said", "Still dry");
    fireEvent.click(screen.getByLabelText("on an open ticket"));
    send();
    expect(await screen.findByText("Choose the ticket.")).toBeTruthy();
    choose("Which ticket?", "t1");
    send();
    await waitFor(() => expect(onSent).toHaveBeenCalled());
    expect(sentBody()).toMatchObject({ ticket_id: "t1" });
  });

  it("makes promises and marks those that it keeps", async () => {
    await show({ promises: [promise] });
    fill("What was said", "About the seed");
    fireEvent.click(screen.getByLabelText(/Ring about the seed/));
    fireEvent.click(screen.getByText("Add a promise"));
    fill("What is promised", "Send the seed");
    const due = isoOf(today(smallFarm.branch.time_zone) + 2);
    fill("By when", due);
    send();
    await waitFor(() => expect(onSent).toHaveBeenCalled());
    expect(sentBody()).toMatchObject({
      promises: [{ kind: "call-back", text: "Send the seed", due_on: due }],
    });
    expect(server.asked("POST /api/promises/pr1/kept")[0]).toMatchObject({
      body: { kept: true },
      headers: { "If-Match": '"2"' },
    });
  });
});

describe("a note that was not sent", () => {
  it("stays on the screen and on the disk when sending fails, and goes under the same id again", async () => {
    server.on("POST /api/calls", problem(503, "busy"));
    await show();
    fill("What was said", "The pump is dead");
    send();
    const alert = await screen.findByRole("alert");
    expect(within(alert).getByText("busy")).toBeTruthy();
    expect((await readDrafts()).f1?.said).toBe("The pump is dead");
    server.on("POST /api/calls", noted);
    send();
    await waitFor(() => expect(onSent).toHaveBeenCalled());
    const [first, second] = server.asked("POST /api/calls");
    expect(second?.headers["Idempotency-Key"]).toBe(first?.headers["Idempotency-Key"]);
    expect(await readDrafts()).toEqual({});
  });

  it("is taken up again where it was left, and can be thrown away", async () => {
    const begun = newDraft({ farm: { id: "f1", name: "x" }, who: "p2", phone: "" }, new Date());
    await keepDraft({ ...begun, said: "The p" });
    await show();
    expect(await screen.findByText(/You began this note/)).toBeTruthy();
    expect(screen.getByLabelText<HTMLTextAreaElement>("What was said").value).toBe("The p");
    fireEvent.click(screen.getByText("Throw the note away"));
    expect(screen.getByLabelText<HTMLTextAreaElement>("What was said").value).toBe("");
    await waitFor(async () => expect(await readDrafts()).toEqual({}));
  });

  it("comes along from no farm to the farm that was found", async () => {
    const begun = newDraft({ farm: { id: "", name: "" }, who: "", phone: "+237 5" }, new Date());
    await keepDraft({ ...begun, said: "From the hill farm" });
    await show({ who: "", carry: true });
    await waitFor(() =>
      expect(screen.getByLabelText<HTMLTextAreaElement>("What was said").value).toBe("From the hill farm"),
    );
    expect(screen.getByLabelText<HTMLInputElement>(/Phone/).value).toBe("+237 5");
    await waitFor(async () => expect(Object.keys(await readDrafts())).toEqual(["f1"]));
  });
});
