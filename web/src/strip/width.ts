import type { RefObject } from "preact";
import { useLayoutEffect, useRef, useState } from "preact/hooks";

/** useWidth measures an element and follows it; before the first measure, and where nothing is laid out, it is `first`. */
export function useWidth<E extends Element>(first: number): [RefObject<E>, number] {
  const ref = useRef<E>(null);
  const [width, setWidth] = useState(first);
  useLayoutEffect(() => {
    const element = ref.current;
    if (!element || typeof ResizeObserver === "undefined") return;
    const measure = () => setWidth(Math.round(element.getBoundingClientRect().width) || first);
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, [first]);
  return [ref, width];
}
