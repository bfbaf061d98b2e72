// Every page of the phone but the first: one file, which the worker keeps and
// which the first load does without.
export { Asked } from "./asked";
export { Item, List } from "./checklist";
export { CouldNot } from "./could-not";
export { Daybook, PastDays } from "./daybook";
export { Help } from "./help";
export { OneByOne } from "./next";
export { Plan } from "./plan";
export { OneReport, Reports } from "./reports";
export { Milestone, Reading } from "./steps";
export { Cards, OtherTrouble, Sign, Trouble } from "./trouble";
export { Weigh } from "./weigh";
export { Work } from "./work";
