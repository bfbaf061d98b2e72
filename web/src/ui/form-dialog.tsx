import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Texts } from "../api/explain";
import { Problem } from "../api/problem";
import { shared } from "../i18n/shared/words";
import { Button } from "./button";
import { Dialog } from "./dialog";
import { useSending } from "./sending";
import { Trouble } from "./states";
import { toast } from "./toast";
import "./form-dialog.css";

/**
 * FormDialog asks for something, sends it and closes. Put it on the screen to
 * open it; `onClose` says when it is gone. A failure is told above the fields,
 * which get it too, and nothing that was typed is lost.
 */
export function FormDialog({
  title,
  send,
  onClose,
  save = shared().save,
  done,
  texts,
  readAgain,
  children,
}: {
  title: string;
  send: () => Promise<void>;
  onClose: () => void;
  save?: string | undefined;
  /** What to say when it has been sent. */
  done?: string;
  texts?: Texts;
  /** Reads anew what the form is about, for when somebody else has changed it (412). */
  readAgain?: () => void;
  children: (error: unknown) => ComponentChildren;
}) {
  const [open, setOpen] = useState(true);
  const { busy, error, submit } = useSending(async () => {
    await send();
    if (done) toast(done);
    // Closing by the dialog itself gives the focus back to what opened it.
    setOpen(false);
  });
  const form = useRef<HTMLFormElement>(null);
  // What went wrong is told above the fields, which a long form has scrolled away.
  useEffect(() => {
    if (error !== null) form.current?.querySelector("[role=alert]")?.scrollIntoView?.({ block: "nearest" });
  }, [error]);
  return (
    <Dialog open={open} title={title} onClose={onClose}>
      <form ref={form} onSubmit={submit} noValidate>
        {error !== null && <Trouble error={error} {...(texts ? { texts } : {})} />}
        {readAgain && error instanceof Problem && error.status === 412 && (
          <p>
            <Button
              onClick={() => {
                readAgain();
                setOpen(false);
              }}
            >
              {shared().readAgain}
            </Button>
          </p>
        )}
        {children(error)}
        <div class="form-end">
          <Button kind="main" type="submit" busy={busy}>
            {save}
          </Button>
          <Button onClick={() => setOpen(false)}>{shared().cancel}</Button>
        </div>
      </form>
    </Dialog>
  );
}
