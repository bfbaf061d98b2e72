import type { Outline } from "./outline";

/** A View is the part of an outline that is shown. */
export interface View {
  x: number;
  y: number;
  width: number;
  height: number;
}

const nearest = 8;

/** whole shows everything. */
export function whole({ width, height }: Outline): View {
  return { x: 0, y: 0, width, height };
}

/**
 * around shows the part that holds all of some places with room around them,
 * in the drawing's own proportions; everything where there is none.
 */
export function around(outline: Outline, places: readonly { x: number; y: number }[]): View {
  if (places.length === 0) return whole(outline);
  const [xs, ys] = [places.map((p) => p.x), places.map((p) => p.y)];
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  const [wide, high] = [Math.max(...xs) - left, Math.max(...ys) - top];
  const share = Math.max(wide / outline.width, high / outline.height) * 1.5;
  const near = Math.min(Math.max(share, 1 / 4), 1);
  const [width, height] = [outline.width * near, outline.height * near];
  return kept({ x: left + wide / 2 - width / 2, y: top + high / 2 - height / 2, width, height }, outline);
}

/** zoomed shows `by` times as much around the same middle, within the drawing and eight times nearer at most. */
export function zoomed(view: View, outline: Outline, by: number): View {
  const share = Math.min(Math.max((view.width * by) / outline.width, 1 / nearest), 1);
  const width = outline.width * share;
  const height = outline.height * share;
  const middle = { x: view.x + view.width / 2, y: view.y + view.height / 2 };
  return kept({ x: middle.x - width / 2, y: middle.y - height / 2, width, height }, outline);
}

const steps: Record<string, [number, number]> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** moved shows the part a quarter further in the direction of an arrow key; null for any other key or where nothing moves. */
export function moved(view: View, outline: Outline, key: string): View | null {
  const step = steps[key];
  if (!step) return null;
  const next = kept(
    { ...view, x: view.x + (step[0] * view.width) / 4, y: view.y + (step[1] * view.height) / 4 },
    outline,
  );
  return next.x === view.x && next.y === view.y ? null : next;
}

function kept(view: View, { width, height }: Outline): View {
  const x = Math.min(Math.max(view.x, 0), width - view.width);
  const y = Math.min(Math.max(view.y, 0), height - view.height);
  return { ...view, x, y };
}
