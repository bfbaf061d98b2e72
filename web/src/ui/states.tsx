import type { ComponentChildren } from "preact";
import { explain, type Texts } from "../api/explain";
import { shared } from "../i18n/shared/words";
import { Button } from "./button";

/** Empty says that there is nothing, and what to do about it if anything. */
export function Empty({ children }: { children?: ComponentChildren }) {
  return <p class="empty">{children ?? shared().list.empty}</p>;
}

/** Trouble says what did not work and what to do; `retry` is offered where trying again may help. */
export function Trouble({
  error,
  texts,
  retry,
}: {
  error: unknown;
  texts?: Texts;
  retry?: (() => void) | undefined;
}) {
  return (
    <div class="trouble" role="alert">
      <p class="trouble-title">{shared().trouble.title}</p>
      <p>{explain(error, texts)}</p>
      {retry && <Button onClick={retry}>{shared().retry}</Button>}
    </div>
  );
}

/** Loading holds the place of what is being brought. */
export function Loading() {
  return (
    <p class="loading" role="status">
      {shared().loading}
    </p>
  );
}
