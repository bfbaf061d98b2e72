import { useLocation } from "preact-iso";
import { match, type PageEntry } from "../shell/page-list";

/** Shown is the page of an area at the present address, as the shell shows it. */
export function Shown({ pages }: { pages: readonly PageEntry[] }) {
  const { path } = useLocation();
  for (const page of pages) {
    const params = match(page.path, path);
    if (params) return <page.view params={params} key={path} />;
  }
  return <p>no page</p>;
}
