import { Page } from "../../shell/page";
import type { PageEntry } from "../../shell/page-list";
import { Empty } from "../../ui/states";
import { deskWords } from "./words";

function Home() {
  const words = deskWords();
  return (
    <Page title={words.title}>
      <Empty />
    </Page>
  );
}

/** The pages of this role; the first is its home. */
export const pages: readonly PageEntry[] = [{ path: "/desk", view: Home, nav: () => deskWords().title }];
