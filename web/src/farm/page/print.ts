import { useEffect } from "preact/hooks";

/**
 * usePrintedWhole opens, while the page is printed, what is folded on screen
 * and belongs on paper (data-print): paper has no button to open it by.
 */
export function usePrintedWhole(): void {
  useEffect(() => {
    let opened: HTMLDetailsElement[] = [];
    const open = () => {
      opened = [...document.querySelectorAll<HTMLDetailsElement>("main details[data-print]:not([open])")];
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
