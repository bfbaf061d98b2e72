import { Page } from "../../shell/page";
import type { PageEntry } from "../../shell/page-list";
import { Empty } from "../../ui/states";
import { officeWords } from "./words";

function Home() {
  const words = officeWords();
  return (
    <Page title={words.title}>
      <Empty />
    </Page>
  );
}

/** The pages of this role; the first is its home. */
export const pages: readonly PageEntry[] = [{ path: "/office", view: Home, nav: () => officeWords().title }];
