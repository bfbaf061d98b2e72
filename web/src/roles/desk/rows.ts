import type { RefObject } from "preact";
import { useEffect } from "preact/hooks";
import { useCommand } from "../../keyboard/commands";
import { deskWords } from "./words";

/**
 * useRows moves through the rows of a list by key: J and K anywhere on the
 * page, the arrows inside the list (so that it works with single letters
 * off), and one key that shows what is new. A row is the first link of a list
 * item; to move is to go there by focus, to choose is to press Enter.
 */
export function useRows(box: RefObject<HTMLElement>): void {
  const keys = deskWords().keys;
  const step = (by: number) => {
    const rows = [...(box.current?.querySelectorAll<HTMLElement>("li a.row") ?? [])];
    const at = rows.indexOf(document.activeElement as HTMLElement);
    const from = at >= 0 ? at : rows.findIndex((row) => row.getAttribute("aria-current") === "true");
    const next =
      from < 0 ? (by > 0 ? 0 : rows.length - 1) : Math.min(Math.max(from + by, 0), rows.length - 1);
    rows[next]?.focus();
  };
  useCommand({ id: "desk.next", combo: "j", label: () => keys.next }, () => step(1));
  useCommand({ id: "desk.previous", combo: "k", label: () => keys.previous }, () => step(-1));
  useCommand({ id: "desk.fresh", combo: "g", label: () => keys.fresh }, () =>
    box.current?.querySelector<HTMLButtonElement>(".held > button")?.click(),
  );
  useEffect(() => {
    const list = box.current;
    const press = (event: KeyboardEvent) => {
      const by = { ArrowDown: 1, ArrowUp: -1 }[event.key];
      if (!by || !(event.target instanceof HTMLElement) || !event.target.matches("a.row")) return;
      event.preventDefault();
      step(by);
    };
    list?.addEventListener("keydown", press);
    return () => list?.removeEventListener("keydown", press);
  }, []);
}
