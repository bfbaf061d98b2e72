import { Page } from "../../shell/page";
import type { PageEntry } from "../../shell/page-list";
import { Empty } from "../../ui/states";
import { mineWords } from "./words";

function Home() {
  const words = mineWords();
  return (
    <Page title={words.title}>
      <Empty />
    </Page>
  );
}

/** The pages of this role; the first is its home. */
export const pages: readonly PageEntry[] = [{ path: "/mine", view: Home, nav: () => mineWords().title }];
