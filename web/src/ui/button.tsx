import type { ComponentChildren, JSX } from "preact";

type Kind = "main" | "plain" | "danger" | "quiet";

type Rest = Omit<JSX.HTMLAttributes<HTMLButtonElement>, "type" | "class" | "children">;

/** What a Button takes: one kind (one "main" a screen), and `busy` while its work is under way. */
export interface ButtonProps extends Rest {
  kind?: Kind;
  type?: "button" | "submit";
  busy?: boolean;
  disabled?: boolean;
  children: ComponentChildren;
}

/** Button is a button; a busy one keeps the focus, takes no second press and says so. */
export function Button({ kind = "plain", type = "button", busy, onClick, children, ...rest }: ButtonProps) {
  return (
    <button
      {...rest}
      type={type}
      class={`button button-${kind}`}
      aria-disabled={busy ? "true" : undefined}
      aria-busy={busy ? "true" : undefined}
      onClick={(event) => {
        if (busy) event.preventDefault();
        else onClick?.(event);
      }}
    >
      {children}
    </button>
  );
}

/** LinkButton looks like a button and goes somewhere. */
export function LinkButton({
  kind = "plain",
  href,
  children,
}: {
  kind?: Kind;
  href: string;
  children: ComponentChildren;
}) {
  return (
    <a class={`button button-${kind}`} href={href}>
      {children}
    </a>
  );
}
