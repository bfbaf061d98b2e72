import type { ComponentChildren } from "preact";
import type { Texts } from "../api/explain";
import type { Read, ReadList } from "../api/read";
import { formats } from "../i18n/format";
import { shared } from "../i18n/shared/words";
import { Button } from "./button";
import { Loading, Trouble } from "./states";

/**
 * Shown shows what was read; before that it says that it is being brought, and
 * after a failure what is wrong, beside the last that was known.
 */
export function Shown<T>({
  read,
  texts,
  children,
}: {
  read: Read<T>;
  texts?: Texts;
  children: (value: T) => ComponentChildren;
}) {
  const { value, error, busy, readAt, again } = read;
  return (
    <>
      {error !== undefined && !busy && (
        <>
          <Trouble error={error} {...(texts ? { texts } : {})} retry={() => void again()} />
          {readAt && <p class="field-hint">{shared().trouble.lastKnown(formats().dateTime(readAt))}</p>}
        </>
      )}
      {value !== undefined ? children(value) : busy && <Loading />}
    </>
  );
}

/** More brings the next page of a list; it goes away with the last. */
export function More<T>({ list, label }: { list: ReadList<T>; label: string }) {
  if (!list.more) return null;
  return (
    <Button busy={list.busy} onClick={list.more}>
      {label}
    </Button>
  );
}
