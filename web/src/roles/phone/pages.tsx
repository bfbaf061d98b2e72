import type { PageEntry } from "../../shell/page-list";
import { Later } from "../../ui/later";
import { behind } from "./behind";
import { Home } from "./home";
import { laterWords } from "./later/words";
import { laterView } from "./learn-later";
import { phoneWords } from "./words";

const sent = () => Promise.all([import("./later/sent"), laterWords.load()]).then(([m]) => m.Sent);
const reads = () => Promise.all([import("./later/reads"), laterWords.load()]).then(([m]) => m.Reads);

/** The pages of the caretaker's phone; the first is its home. */
export const pages: readonly PageEntry[] = [
  { path: "/today", view: Home, nav: () => phoneWords().title },
  { path: "/today/daybook", view: behind("Daybook") },
  { path: "/today/daybook/:on", view: behind("Daybook") },
  { path: "/today/missing", view: behind("PastDays") },
  { path: "/today/next", view: behind("OneByOne") },
  { path: "/today/could-not", view: behind("CouldNot") },
  { path: "/today/could-not/:task", view: behind("CouldNot") },
  { path: "/today/task/:cycle/:work", view: behind("Work") },
  { path: "/today/asked/:id", view: behind("Asked") },
  { path: "/today/weigh/:cycle", view: behind("Weigh") },
  { path: "/today/trouble", view: behind("Trouble") },
  { path: "/today/trouble/words", view: behind("OtherTrouble") },
  { path: "/today/sign/:enterprise/:sign", view: behind("Sign") },
  { path: "/today/sign/:enterprise/:sign/:entry", view: behind("Sign") },
  { path: "/today/cards", view: behind("Cards") },
  { path: "/today/help", view: behind("Help") },
  { path: "/today/list/:cycle/:list", view: behind("List") },
  { path: "/today/item/:cycle/:list/:item", view: behind("Item") },
  { path: "/today/milestone/:cycle/:milestone", view: behind("Milestone") },
  { path: "/today/modules", view: laterView("modules") },
  { path: "/today/module/:enterprise/:module", view: laterView("module") },
  { path: "/today/module/:enterprise/:module/card/:card", view: laterView("card") },
  { path: "/today/module/:enterprise/:module/questions", view: laterView("questions") },
  { path: "/today/reading/:cycle", view: behind("Reading") },
  { path: "/today/reports", view: behind("Reports") },
  { path: "/today/report/:id", view: behind("OneReport") },
  { path: "/today/plan/:cycle", view: behind("Plan") },
  { path: "/today/sent", view: () => <Later load={sent} props={{}} /> },
  { path: "/today/reads", view: () => <Later load={reads} props={{}} /> },
];
