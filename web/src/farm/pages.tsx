import { Page } from "../shell/page";
import type { PageEntry, PageProps } from "../shell/page-list";
import { Empty } from "../ui/states";
import { farmWords } from "./words";

function Farm({ params }: PageProps) {
  const words = farmWords();
  return (
    <Page title={words.farm}>
      <Empty>
        {words.noFarm} {params.id}
      </Empty>
    </Page>
  );
}

/** The pages of one farm, for everyone of the firm. */
export const pages: readonly PageEntry[] = [{ path: "/farms/:id", view: Farm }];
