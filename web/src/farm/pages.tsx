import type { PageEntry } from "../shell/page-list";
import { Later } from "../ui/later";
import { sheetWords } from "./daybook/words";
import { Farm } from "./page/farm";

const paper = () => Promise.all([import("./daybook/paper"), sheetWords.load()]).then(([m]) => m.Paper);

/** The pages of one farm, for everyone of the firm. */
export const pages: readonly PageEntry[] = [
  { path: "/farms/:id", view: Farm },
  { path: "/farms/:id/daybook/:unit", view: (props) => <Later load={paper} props={props} /> },
];
