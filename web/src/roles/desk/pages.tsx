import type { PageEntry } from "../../shell/page-list";
import { TrainingLater } from "../../training/later";
import { Brief } from "./brief/brief";
import { CallWithoutFarm } from "./call/no-farm";
import { PromiseList } from "./promises/promises";
import { Queue } from "./queue/queue";
import { Review } from "./review/review";
import { deskWords } from "./words";

/** The pages of the call desk; the first is its home. */
export const pages: readonly PageEntry[] = [
  { path: "/desk", view: Queue, nav: () => deskWords().queue.title },
  { path: "/desk/promises", view: PromiseList, nav: () => deskWords().promises.title },
  { path: "/desk/call", view: CallWithoutFarm, nav: () => deskWords().call.title },
  { path: "/desk/training", view: TrainingLater, nav: () => deskWords().training },
  { path: "/desk/cards", view: Review, nav: () => deskWords().review.title },
  { path: "/desk/farms/:id", view: Brief },
];
