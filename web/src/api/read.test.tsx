import { act, fireEvent, render, screen } from "@testing-library/preact";
import { expect, it, vi } from "vitest";
import { More, Shown } from "../ui/shown";
import { Problem } from "./problem";
import { type Page, useRead, useReadList } from "./read";

function Farm({ id, load }: { id: string; load: (signal: AbortSignal) => Promise<string> }) {
  const read = useRead(`farm ${id}`, load);
  return (
    <>
      <Shown read={read}>{(name) => <p>{name}</p>}</Shown>
      <button type="button" onClick={() => void read.again()}>
        again
      </button>
    </>
  );
}

/** later is a promise that the test settles. */
function later<T>() {
  let settle: { resolve: (value: T) => void; reject: (error: unknown) => void } | undefined;
  const promise = new Promise<T>((resolve, reject) => {
    settle = { resolve, reject };
  });
  if (!settle) throw new Error("a promise begins at once");
  return { promise, ...settle };
}

it("says that it is being brought, then shows it", async () => {
  const answer = later<string>();
  render(<Farm id="1" load={() => answer.promise} />);
  expect(screen.getByRole("status").textContent).toBe("Loading …");
  await act(async () => answer.resolve("Three Palms"));
  expect(screen.getByText("Three Palms")).toBeTruthy();
});

it("keeps the last that was known beside a failure, and tries again", async () => {
  const load = vi.fn().mockResolvedValueOnce("Three Palms");
  render(<Farm id="1" load={load} />);
  await screen.findByText("Three Palms");
  load.mockRejectedValueOnce(new Problem(503, "busy", "The server is busy."));
  fireEvent.click(screen.getByText("again"));
  expect(await screen.findByText("The server is busy.")).toBeTruthy();
  expect(screen.getByText("Three Palms")).toBeTruthy();
  expect(screen.getByText(/was read/)).toBeTruthy();
  load.mockResolvedValueOnce("Four Palms");
  fireEvent.click(screen.getByText("Try again"));
  expect(await screen.findByText("Four Palms")).toBeTruthy();
  expect(screen.queryByRole("alert")).toBeNull();
});

it("never shows the answer to an older question", async () => {
  const [one, two] = [later<string>(), later<string>()];
  const load = vi.fn().mockReturnValueOnce(one.promise).mockReturnValueOnce(two.promise);
  const { rerender } = render(<Farm id="1" load={load} />);
  rerender(<Farm id="2" load={load} />);
  await act(async () => two.resolve("second"));
  await act(async () => one.resolve("first"));
  expect(screen.getByText("second")).toBeTruthy();
  expect(screen.queryByText("first")).toBeNull();
  const [first] = load.mock.calls.map(([signal]) => signal as AbortSignal);
  expect(first?.aborted).toBe(true);
});

function List({ load }: { load: (cursor: string | undefined) => Promise<Page<string>> }) {
  const list = useReadList("list", load);
  return (
    <>
      <Shown read={list}>{(items) => <p>{items.join(" ")}</p>}</Shown>
      <More list={list} label="More" />
    </>
  );
}

it("reads a list page by page until the last", async () => {
  const load = vi
    .fn()
    .mockResolvedValueOnce({ items: ["a", "b"], next: "2" })
    .mockResolvedValueOnce({ items: ["c"], next: "3" })
    .mockRejectedValueOnce(new Problem(503, "busy", "The server is busy."))
    .mockResolvedValueOnce({ items: ["d"] });
  render(<List load={load} />);
  await screen.findByText("a b");
  fireEvent.click(screen.getByText("More"));
  await screen.findByText("a b c");
  fireEvent.click(screen.getByText("More"));
  await screen.findByText("The server is busy.");
  expect(screen.getByText("a b c")).toBeTruthy();
  fireEvent.click(screen.getByText("More"));
  await screen.findByText("a b c d");
  expect(screen.queryByText("More")).toBeNull();
  expect(load.mock.calls.map(([cursor]) => cursor)).toEqual([undefined, "2", "3", "3"]);
});
