import { fireEvent, render, screen } from "@testing-library/preact";
import { expect, it } from "vitest";
import { language } from "../i18n/language";
import { accessible } from "../testing/axe";
import { HeldList } from "./held-list";

interface Item {
  id: string;
  text: string;
}

const list = (items: Item[]) => (
  <HeldList
    items={items}
    keyOf={(i) => i.id}
    render={(i) => i.text}
    announce={(n) => `${n} new`}
    label="Queue"
    empty={<p>Empty</p>}
  />
);
const a = { id: "a", text: "A" };
const b = { id: "b", text: "B" };
const rows = () => screen.getAllByRole("listitem").map((li) => li.textContent);

it("shows what was there when the page opened", () => {
  const { rerender } = render(list([]));
  expect(screen.getByText("Empty")).toBeTruthy();
  rerender(list([a]));
  expect(rows()).toEqual(["A"]);
});

it("never moves: new things wait, gone ones keep their place, contents follow", async () => {
  language.value = "en";
  const { rerender, container } = render(list([a, b]));
  rerender(
    list([
      { id: "c", text: "C" },
      { id: "b", text: "B2" },
    ]),
  );
  expect(rows()).toEqual(["Ano longer in this list", "B2"]);
  expect(screen.getByRole("status").textContent).toBe("1 new");
  await accessible(container);
  fireEvent.click(screen.getByRole("button", { name: "Show: 1 new" }));
  expect(rows()).toEqual(["C", "B2"]);
  expect(screen.getByRole("status").textContent).toBe("");
});
