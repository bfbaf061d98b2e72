import type { ComponentType } from "preact";

/** What a page gets: the parts of its address that its path names. */
export interface PageProps {
  params: Record<string, string>;
}

/**
 * A PageEntry is one page of an area: `path` under the area's base, with
 * `:name` for a part that varies; `nav` gives the words for the top line.
 */
export interface PageEntry {
  path: string;
  view: ComponentType<PageProps>;
  nav?: () => string;
}

/** match gives what the varying parts of a pattern are in a path, null where it does not fit. */
export function match(pattern: string, path: string): Record<string, string> | null {
  const want = pattern.split("/").filter(Boolean);
  const have = path.split("/").filter(Boolean);
  if (want.length !== have.length) return null;
  const params: Record<string, string> = {};
  for (const [i, part] of want.entries()) {
    const found = have[i] as string;
    if (part.startsWith(":")) params[part.slice(1)] = decode(found);
    else if (part !== found) return null;
  }
  return params;
}

function decode(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
