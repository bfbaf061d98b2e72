import type { PageEntry } from "../../shell/page-list";
import { TrainingLater } from "../../training/later";
import { Cards } from "./cards";
import { Confirm } from "./confirm";
import { Farms } from "./farms";
import { LoadPage } from "./load";
import { Needs } from "./needs";
import { Visits } from "./visits";
import { managerWords } from "./words";
import "../../farm/notebook.css";
import "./manager.css";

/** The pages of this role; the first is its home. */
export const pages: readonly PageEntry[] = [
  { path: "/manager", view: Needs, nav: () => managerWords().nav.needs },
  { path: "/manager/visits", view: Visits, nav: () => managerWords().nav.visits },
  { path: "/manager/farms", view: Farms, nav: () => managerWords().nav.farms },
  { path: "/manager/confirm", view: Confirm, nav: () => managerWords().nav.confirm },
  { path: "/manager/load", view: LoadPage, nav: () => managerWords().nav.load },
  { path: "/manager/training", view: TrainingLater, nav: () => managerWords().nav.training },
  { path: "/manager/cards", view: Cards, nav: () => managerWords().nav.cards },
];
