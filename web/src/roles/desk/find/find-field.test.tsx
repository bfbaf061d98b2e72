import { fireEvent, render, screen, waitFor } from "@testing-library/preact";
import { LocationProvider } from "preact-iso";
import { beforeEach, describe, expect, it } from "vitest";
import { farmWords } from "../../../farm/words";
import { language } from "../../../i18n/language";
import { KeyHelp } from "../../../keyboard/key-help";
import { accessible } from "../../../testing/axe";
import { type FakeServer, fakeServer, signedIn } from "../../../testing/server";
import type { Hit } from "../server";
import { deskWords } from "../words";
import { FindField } from "./find-field";

const hit = (more: Partial<Hit> = {}): Hit => ({
  kind: "farm",
  id: "f1",
  farm_id: "f1",
  label: "Three Palms",
  farm: "Three Palms",
  why: "name",
  client: "Tabi and Sons",
  town: "Limbe",
  branch_id: "b1",
  standing: "behind",
  phone: "",
  language: "",
  ...more,
});
const rose = hit({ kind: "person", id: "p2", label: "Rose Ngassa", phone: "+237550050003", why: "phone" });

let server: FakeServer;

beforeEach(async () => {
  language.value = "en";
  await Promise.all([deskWords.load("en"), farmWords.load("en")]);
  signedIn("advisor", "ana");
  history.replaceState(null, "", "/desk");
  server = fakeServer();
});

const show = (...hits: Hit[]) => {
  server.on("GET /api/search", { items: hits });
  const shown = render(
    <LocationProvider>
      <FindField />
      <KeyHelp />
    </LocationProvider>,
  );
  return { ...shown, field: screen.getByRole<HTMLInputElement>("combobox") };
};
const type = (field: HTMLElement, text: string) => fireEvent.input(field, { target: { value: text } });
const key = (field: HTMLElement, name: string) => fireEvent.keyDown(field, { key: name });

describe("the field that finds", () => {
  it("takes the focus by F2 and lists what it found", async () => {
    const { field, container } = show(rose, hit());
    await waitFor(() => {
      key(document.body, "F2");
      expect(document.activeElement).toBe(field);
    });
    type(field, "rose");
    const options = await screen.findAllByRole("option");
    expect(options.map((o) => o.textContent)).toEqual([
      expect.stringContaining("Rose Ngassa"),
      expect.stringContaining("Three Palms"),
    ]);
    expect(options[0]?.textContent).toContain("by phone number");
    expect(field.getAttribute("aria-activedescendant")).toBe(options[0]?.id);
    await accessible(container);
  }, 20_000);

  it("goes by arrows and Enter, with the caller known", async () => {
    const { field } = show(hit(), rose);
    type(field, "rose");
    await screen.findAllByRole("option");
    key(field, "ArrowDown");
    key(field, "Enter");
    await waitFor(() => expect(location.pathname + location.search).toBe("/desk/farms/f1?who=p2"));
  });

  it("goes at once where Enter came before the answer and all is one farm", async () => {
    const { field } = show(rose, hit());
    type(field, "50003");
    key(field, "Enter");
    await waitFor(() => expect(location.search).toBe("?who=p2"));
    expect(server.asked("GET /api/search")[0]?.query.get("q")).toBe("50003");
  });

  it("stops at the list where several farms fit", async () => {
    const { field } = show(hit(), hit({ id: "f2", farm_id: "f2", label: "Palm Bay" }));
    type(field, "palm");
    key(field, "Enter");
    await screen.findAllByRole("option");
    expect(location.pathname).toBe("/desk");
  });

  it("offers to note a call where nothing was found", async () => {
    const { field } = show();
    type(field, "+237 699 999");
    expect(await screen.findByText("Nothing found for “+237 699 999”.")).toBeTruthy();
    key(field, "Enter");
    await waitFor(() =>
      expect(location.pathname + location.search).toBe("/desk/call?phone=%2B237%20699%20999"),
    );
  });

  it("says what went wrong", async () => {
    const { field } = show();
    server.on("GET /api/search", () => {
      throw new TypeError("no network");
    });
    type(field, "palm");
    expect(await screen.findByText(/No answer came back/)).toBeTruthy();
    expect(screen.queryByRole("option")).toBeNull();
  });

  it("closes by Escape and keeps the text", async () => {
    const { field } = show(hit());
    type(field, "palm");
    await screen.findAllByRole("option");
    key(field, "Escape");
    expect(screen.queryByRole("option")).toBeNull();
    expect(field.value).toBe("palm");
  });
});
