import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef } from "preact/hooks";
import { shared } from "../i18n/shared/words";
import { Button } from "./button";

/**
 * Dialog asks for something before the page goes on. The browser's own modal
 * keeps the focus inside, closes on Escape and gives the focus back.
 */
export function Dialog({
  open,
  title,
  onClose,
  children,
}: {
  open: boolean;
  title: string;
  onClose: () => void;
  children: ComponentChildren;
}) {
  const ref = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const dialog = ref.current;
    if (!dialog) return;
    if (open && !dialog.open) dialog.showModal();
    if (!open && dialog.open) dialog.close();
  }, [open]);
  return (
    <dialog ref={ref} class="dialog" aria-labelledby={id} onClose={onClose}>
      {open && (
        <>
          <header class="dialog-head">
            <h2 id={id}>{title}</h2>
            <Button kind="quiet" onClick={onClose}>
              {shared().close}
            </Button>
          </header>
          {children}
        </>
      )}
    </dialog>
  );
}
