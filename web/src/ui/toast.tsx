import { signal } from "@preact/signals";
import { shared } from "../i18n/shared/words";
import { Button } from "./button";

/** A Toast says what was just done; with `undo` it can be taken back. */
export interface Toast {
  id: number;
  text: string;
  undo?: (() => void) | undefined;
}

const shown = signal<readonly Toast[]>([]);
const most = 3;
const stays = 8_000;
let lastId = 0;

/**
 * toast says that something was done. One with an undo stays until the person
 * dismisses it, for nobody can be hurried (WCAG 2.2.1); a plain one leaves
 * after eight seconds.
 */
export function toast(text: string, undo?: () => void): void {
  const id = ++lastId;
  shown.value = [...shown.value, { id, text, undo }].slice(-most);
  if (!undo) setTimeout(() => dismiss(id), stays);
}

function dismiss(id: number): void {
  shown.value = shown.value.filter((t) => t.id !== id);
}

/** Toasts is where they appear; the shell has one. */
export function Toasts() {
  const words = shared();
  return (
    <div class="toasts" role="status">
      {shown.value.map(({ id, text, undo }) => (
        <div key={id} class="toast">
          <span>{text}</span>
          {undo && (
            <Button
              kind="quiet"
              onClick={() => {
                dismiss(id);
                undo();
              }}
            >
              {words.undo}
            </Button>
          )}
          <Button kind="quiet" onClick={() => dismiss(id)}>
            {words.dismiss}
          </Button>
        </div>
      ))}
    </div>
  );
}
