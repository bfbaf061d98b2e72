import type { PageEntry } from "../../shell/page-list";
import { Item, List } from "./checklist";
import { CouldNot } from "./could-not";
import { Daybook, PastDays } from "./daybook";
import { Help } from "./help";
import { Home } from "./home";
import { laterView } from "./later";
import { OneByOne } from "./next";
import { Plan } from "./plan";
import { OneReport, Reports } from "./reports";
import { Sent } from "./sent";
import { Milestone, Reading } from "./steps";
import { Cards, OtherTrouble, Sign, Trouble } from "./trouble";
import { Weigh } from "./weigh";
import { phoneWords } from "./words";
import { Work } from "./work";

/** The pages of the caretaker's phone; the first is its home. */
export const pages: readonly PageEntry[] = [
  { path: "/today", view: Home, nav: () => phoneWords().title },
  { path: "/today/daybook", view: Daybook },
  { path: "/today/daybook/:on", view: Daybook },
  { path: "/today/missing", view: PastDays },
  { path: "/today/next", view: OneByOne },
  { path: "/today/could-not", view: CouldNot },
  { path: "/today/could-not/:task", view: CouldNot },
  { path: "/today/work/:cycle/:work", view: Work },
  { path: "/today/weigh/:cycle", view: Weigh },
  { path: "/today/trouble", view: Trouble },
  { path: "/today/trouble/words", view: OtherTrouble },
  { path: "/today/sign/:enterprise/:sign", view: Sign },
  { path: "/today/sign/:enterprise/:sign/:entry", view: Sign },
  { path: "/today/cards", view: Cards },
  { path: "/today/help", view: Help },
  { path: "/today/list/:cycle/:list", view: List },
  { path: "/today/item/:cycle/:list/:item", view: Item },
  { path: "/today/milestone/:cycle/:milestone", view: Milestone },
  { path: "/today/modules", view: laterView("modules") },
  { path: "/today/module/:enterprise/:module", view: laterView("module") },
  { path: "/today/module/:enterprise/:module/card/:card", view: laterView("card") },
  { path: "/today/module/:enterprise/:module/questions", view: laterView("questions") },
  { path: "/today/reading/:cycle", view: Reading },
  { path: "/today/reports", view: Reports },
  { path: "/today/report/:id", view: OneReport },
  { path: "/today/plan/:cycle", view: Plan },
  { path: "/today/sent", view: Sent },
];
