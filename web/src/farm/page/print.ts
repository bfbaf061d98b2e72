import { useEffect } from "preact/hooks";

/**
 * usePrintedWhole opens what is folded while the page is printed: paper has no
 * button to open it by.
 */
export function usePrintedWhole(): void {
  useEffect(() => {
    let opened: HTMLDetailsElement[] = [];
    const open = () => {
      opened = [...document.querySelectorAll<HTMLDetailsElement>("main details:not([open])")].filter(
        (d) => !d.closest(".no-print"),
      );
      for (const d of opened) d.open = true;
    };
    const close = () => {
      for (const d of opened) d.open = false;
      opened = [];
    };
    window.addEventListener("beforeprint", open);
    window.addEventListener("afterprint", close);
    return () => {
      window.removeEventListener("beforeprint", open);
      window.removeEventListener("afterprint", close);
    };
  }, []);
}
