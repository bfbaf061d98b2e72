import type { RefObject } from "preact";
import { useCommand } from "../../../keyboard/commands";
import { deskWords } from "../words";

/** useKeepKey lets one key mark the promise of the row that has the focus as kept. */
export function useKeepKey(box: RefObject<HTMLElement>): void {
  useCommand({ id: "desk.keep", combo: "x", label: () => deskWords().keys.keep }, () => {
    const row = document.activeElement?.closest("li");
    if (row && box.current?.contains(row)) row.querySelector<HTMLButtonElement>("button")?.click();
  });
}
