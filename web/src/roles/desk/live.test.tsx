import { render } from "@testing-library/preact";
import { afterEach, expect, test, vi } from "vitest";
import { hear, type News, useLive } from "./live";

afterEach(() => vi.unstubAllGlobals());

test("a page hears what other desks do, and of a gap that anything may have changed", () => {
  vi.stubGlobal("fetch", () => new Promise(() => undefined));
  const heard: News[] = [];
  function Page() {
    useLive((news) => heard.push(news));
    return null;
  }
  const { unmount } = render(<Page />);
  hear('id: 7\nevent: ticket\ndata: {"ticket_id":"t1","kind":"here"}');
  hear(": here");
  hear("id: 8\nevent: at\ndata: {}");
  hear("id: 9\nevent: reset\ndata: {}");
  expect(heard).toEqual([
    { ticket: "t1", kind: "here" },
    { ticket: "", kind: "changed" },
  ]);
  unmount();
  hear('id: 10\nevent: ticket\ndata: {"ticket_id":"t1","kind":"changed"}');
  expect(heard).toHaveLength(2);
});
