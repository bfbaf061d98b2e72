import { fireEvent, render, screen } from "@testing-library/preact";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { language } from "../i18n/language";
import { accessible } from "../testing/axe";
import { comboOf, isReserved, isSingle, type Press, spoken } from "./combo";
import { resetKeys, setSingleKeys, useCommand } from "./commands";
import { KeyHelp } from "./key-help";

const press = (key: string, more: Partial<Press> = {}): Press => ({
  key,
  ctrlKey: false,
  altKey: false,
  metaKey: false,
  shiftKey: false,
  ...more,
});

describe("a combo", () => {
  it.each([
    [press("F2"), "F2"],
    [press("j"), "j"],
    [press("J", { shiftKey: true }), "Shift+j"],
    [press("?", { shiftKey: true }), "?"],
    [press("k", { ctrlKey: true }), "Ctrl+k"],
    [press("F2", { shiftKey: true }), "Shift+F2"],
    [press(" "), "Space"],
    [press("Control", { ctrlKey: true }), ""],
    [press("é"), "é"],
  ])("of %j is %s", (pressed, combo) => {
    expect(comboOf(pressed)).toBe(combo);
  });
  it("knows single characters and the browser's keys", () => {
    expect(["j", "Shift+j", "/", "Alt+j", "F2", "Ctrl+k"].map(isSingle)).toEqual([
      true,
      true,
      true,
      false,
      false,
      false,
    ]);
    expect(isReserved("F5")).toBe(true);
    expect(spoken("Ctrl+k")).toBe("Ctrl + K");
  });
});

function Desk({ find, next }: { find: () => void; next: () => void }) {
  useCommand({ id: "find", combo: "F2", label: () => "Find a farm" }, find);
  useCommand({ id: "next", combo: "j", label: () => "Next ticket" }, next);
  return (
    <>
      <input aria-label="Name" />
      <KeyHelp />
    </>
  );
}

describe("the keys of a page", () => {
  const find = vi.fn();
  const next = vi.fn();
  beforeEach(() => {
    language.value = "en";
    localStorage.clear();
    resetKeys();
    setSingleKeys(true);
    find.mockClear();
    next.mockClear();
  });
  const show = () => render(<Desk find={find} next={next} />);
  const key = (name: string, at: Element = document.body) => fireEvent.keyDown(at, { key: name });

  it("run their commands", () => {
    show();
    key("F2");
    key("j");
    expect(find).toHaveBeenCalledTimes(1);
    expect(next).toHaveBeenCalledTimes(1);
  });

  it("stop when the page goes", () => {
    show().unmount();
    key("F2");
    expect(find).not.toHaveBeenCalled();
  });

  it("let people type", () => {
    show();
    key("j", screen.getByLabelText("Name"));
    key("F2", screen.getByLabelText("Name"));
    expect(next).not.toHaveBeenCalled();
    expect(find).toHaveBeenCalledTimes(1);
  });

  it("can be without single letters", () => {
    show();
    setSingleKeys(false);
    key("j");
    expect(next).not.toHaveBeenCalled();
  });

  it("are listed by F1, and rest while the list is open", async () => {
    const { container } = show();
    key("F1");
    const lines = screen.getAllByRole("rowheader").map((th) => th.textContent);
    expect(lines.sort()).toEqual(["Find a farm", "Next ticket", "Show the keys"]);
    await accessible(container);
    key("F2");
    expect(find).not.toHaveBeenCalled();
  });

  it("can each be changed, but not to one that is taken or the browser's", () => {
    show();
    key("F1");
    const change = screen.getByRole("button", { name: "Change the key for: Next ticket" });
    fireEvent.click(change);
    key("F2", change);
    expect(screen.getByText("F2 is already used for: Find a farm.")).toBeTruthy();
    key("F5", change);
    expect(screen.getByText("F5 belongs to the browser.")).toBeTruthy();
    key("n", change);
    fireEvent.click(screen.getByText("Close"));
    key("j");
    expect(next).not.toHaveBeenCalled();
    key("n");
    expect(next).toHaveBeenCalledTimes(1);
    expect(localStorage.getItem("tendfold.keys")).toContain('"next":"n"');
  });
});
