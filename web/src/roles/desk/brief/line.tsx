import type { ComponentChildren } from "preact";

/** Line is one of the six: its name in the margin, what there is to say beside it. */
export function Line({ name, children }: { name: string; children: ComponentChildren }) {
  return (
    <div class="brief-line">
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

/** Dotted puts parts of a line side by side, with a point between; what is empty is left out. */
export function Dotted({ parts }: { parts: readonly ComponentChildren[] }) {
  const shown = parts.filter((p) => p !== "" && p !== undefined && p !== null && p !== false);
  return (
    <span class="dots">
      {shown.map((part, i) => (
        <span key={i}>{part}</span>
      ))}
    </span>
  );
}
