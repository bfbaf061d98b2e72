import { learnWords } from "../learn/words";
import type { PageEntry } from "../shell/page-list";
import { Later } from "../ui/later";
import { sheetWords } from "./daybook/words";
import { Farm } from "./page/farm";
import { projectionWords } from "./projection/words";

const aloud = () => Promise.all([import("./aloud/aloud"), learnWords.load()]).then(([m]) => m.Aloud);
const paper = () => Promise.all([import("./daybook/paper"), sheetWords.load()]).then(([m]) => m.Paper);

const ahead = () =>
  Promise.all([import("./projection/projection"), projectionWords.load()]).then(([m]) => m.Projection);

/** The pages of one farm, for everyone of the firm. */
export const pages: readonly PageEntry[] = [
  { path: "/farms/:id", view: Farm },
  {
    path: "/farms/:id/ask/:person/:enterprise/:module",
    view: (props) => <Later load={aloud} props={props} />,
  },
  { path: "/farms/:id/daybook/:unit", view: (props) => <Later load={paper} props={props} /> },
  { path: "/farms/:id/ahead/:unit", view: (props) => <Later load={ahead} props={props} /> },
];
