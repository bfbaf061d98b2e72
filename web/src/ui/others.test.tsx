import { act, fireEvent, render, screen } from "@testing-library/preact";
import { useState } from "preact/hooks";
import { beforeEach, expect, it, vi } from "vitest";
import { Problem } from "../api/problem";
import { language } from "../i18n/language";
import { accessible } from "../testing/axe";
import { Button } from "./button";
import { Dialog } from "./dialog";
import { useSending } from "./sending";
import { Trouble } from "./states";
import { Table } from "./table";
import { Toasts, toast } from "./toast";

beforeEach(() => {
  language.value = "en";
});

it("takes no second press while it is busy", () => {
  const onClick = vi.fn();
  render(
    <Button busy onClick={onClick}>
      Save
    </Button>,
  );
  const button = screen.getByRole("button", { name: "Save" });
  fireEvent.click(button);
  expect(onClick).not.toHaveBeenCalled();
  expect(button.getAttribute("aria-busy")).toBe("true");
  expect(button.hasAttribute("disabled")).toBe(false);
});

function Opener() {
  const [open, setOpen] = useState(false);
  return (
    <>
      <Button onClick={() => setOpen(true)}>Open</Button>
      <Dialog open={open} title="Settle the ticket" onClose={() => setOpen(false)}>
        <p>How was it settled?</p>
      </Dialog>
    </>
  );
}

it("opens a dialog with a name and closes it", async () => {
  const { container } = render(<Opener />);
  fireEvent.click(screen.getByText("Open"));
  expect(screen.getByRole("dialog", { name: "Settle the ticket" })).toBeTruthy();
  await accessible(container);
  fireEvent.click(screen.getByText("Close"));
  expect(screen.queryByText("How was it settled?")).toBeNull();
});

it("shows a table that names its rows", async () => {
  const { container } = render(
    <Table
      caption="Milestones"
      columns={[
        { key: "name", head: "Milestone", cell: (r: { name: string }) => r.name },
        { key: "days", head: "Days", number: true, cell: () => "3" },
      ]}
      rows={[{ name: "Planted" }]}
      keyOf={(r) => r.name}
    />,
  );
  expect(screen.getByRole("rowheader", { name: "Planted" })).toBeTruthy();
  await accessible(container);
});

it("says trouble at once and offers another try", async () => {
  const retry = vi.fn();
  const { container } = render(<Trouble error={new Problem(0, "no-network", "")} retry={retry} />);
  expect(screen.getByRole("alert").textContent).toContain("Check the network");
  fireEvent.click(screen.getByText("Try again"));
  expect(retry).toHaveBeenCalled();
  await accessible(container);
});

it("keeps a toast with an undo until the person decides, and lets a plain one go", () => {
  vi.useFakeTimers();
  const undo = vi.fn();
  render(<Toasts />);
  act(() => {
    toast("Saved");
    toast("Marked as done", undo);
  });
  act(() => {
    vi.advanceTimersByTime(60_000);
  });
  expect(screen.queryByText("Saved")).toBeNull();
  fireEvent.click(screen.getByText("Undo"));
  expect(undo).toHaveBeenCalledTimes(1);
  expect(screen.queryByText("Marked as done")).toBeNull();
  vi.useRealTimers();
});

function Form({ work }: { work: () => Promise<void> }) {
  const { busy, error, submit } = useSending(work);
  return (
    <form onSubmit={submit}>
      {error !== null && <Trouble error={error} />}
      <Button type="submit" busy={busy}>
        Send
      </Button>
    </form>
  );
}

it("sends a form once at a time and shows what went wrong", async () => {
  let fail: (error: unknown) => void = () => undefined;
  const work = vi.fn(() => new Promise<void>((_, reject) => (fail = reject)));
  render(<Form work={work} />);
  const form = screen.getByText("Send").closest("form") as HTMLFormElement;
  fireEvent.submit(form);
  fireEvent.submit(form);
  expect(work).toHaveBeenCalledTimes(1);
  fail(new Problem(409, "taken", "That name is taken."));
  await vi.waitFor(() => expect(screen.getByRole("alert").textContent).toContain("That name is taken."));
  await vi.waitFor(() => expect(screen.getByText("Send").hasAttribute("aria-busy")).toBe(false));
  fireEvent.submit(form);
  expect(work).toHaveBeenCalledTimes(2);
});
