import { Page } from "../../shell/page";
import type { PageEntry } from "../../shell/page-list";
import { Empty } from "../../ui/states";
import { phoneWords } from "./words";

function Home() {
  const words = phoneWords();
  return (
    <Page title={words.title}>
      <Empty />
    </Page>
  );
}

/** The pages of this role; the first is its home. */
export const pages: readonly PageEntry[] = [{ path: "/today", view: Home, nav: () => phoneWords().title }];
