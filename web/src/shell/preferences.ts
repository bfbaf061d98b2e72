import { effect, signal } from "@preact/signals";

/** Light or dark by hand, or as the device has it. */
export type Theme = "auto" | "light" | "dark";

const key = "tendfold.theme";

/** theme is how the screen looks. */
export const theme = signal<Theme>(kept());

function kept(): Theme {
  const found = globalThis.localStorage?.getItem(key);
  return found === "light" || found === "dark" ? found : "auto";
}

/** followTheme keeps the document as the person chose it. */
export function followTheme(): () => void {
  return effect(() => {
    localStorage.setItem(key, theme.value);
    if (theme.value === "auto") delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = theme.value;
  });
}
