import type { Drawings } from "./lessons";

/**
 * Drawing shows one of the pack's own drawings in the colours of the screen.
 * The server took only lines and surfaces (checklists/read_media.go), so the
 * text can stand in the page as it is. What it shows is told beside it.
 */
export function Drawing({ name, drawings }: { name: string | undefined; drawings: Drawings }) {
  const svg = name && drawings[name];
  if (!svg) return null;
  return <span class="drawing" aria-hidden="true" dangerouslySetInnerHTML={{ __html: svg }} />;
}
