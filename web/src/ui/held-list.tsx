import type { ComponentChildren } from "preact";
import { useRef, useState } from "preact/hooks";
import { shared } from "../i18n/shared/words";
import { Button } from "./button";
import { hold } from "./hold";

/**
 * HeldList shows a list that never moves under the cursor. What is new is
 * announced politely and waits until it is asked for; what is gone keeps its
 * place, dimmed, until then.
 */
export function HeldList<Item>({
  items,
  keyOf,
  render,
  announce,
  label,
  empty,
}: {
  items: readonly Item[];
  keyOf: (item: Item) => string;
  render: (item: Item) => ComponentChildren;
  /** "3 new tickets", from their number. */
  announce: (fresh: number) => string;
  label: string;
  empty?: ComponentChildren;
}) {
  const [, redraw] = useState(0);
  const held = useRef<readonly Item[] | null>(null);
  // The first items to arrive are what was asked for by opening the page.
  if (held.current === null || held.current.length === 0) held.current = items;
  const now = hold(held.current, items, keyOf);
  const shownFresh = () => {
    held.current = items;
    redraw((n) => n + 1);
  };
  const text = now.fresh > 0 ? announce(now.fresh) : "";
  return (
    <div class="held">
      <div role="status" class="held-news">
        {text}
      </div>
      {text && (
        <Button onClick={shownFresh}>
          {shared().list.show}: {text}
        </Button>
      )}
      {now.rows.length === 0 ? (
        empty
      ) : (
        <ol class="held-rows" aria-label={label}>
          {now.rows.map(({ item, gone }) => (
            <li key={keyOf(item)} class={gone ? "held-gone" : undefined}>
              {render(item)}
              {gone && <span class="held-gone-words">{shared().list.gone}</span>}
            </li>
          ))}
        </ol>
      )}
    </div>
  );
}
