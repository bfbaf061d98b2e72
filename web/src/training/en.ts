import { formatsOf } from "../i18n/format";

const { date, number, percent, plural } = formatsOf("en");

const en = {
  title: "Training",
  intro: "How far farms are trained, who is learning what, and which questions fail.",
  branch: "Branch",
  allBranches: "all branches",
  export: "Take the record as a spreadsheet (CSV)",
  file: (on: string) => `training-${on}.csv`,
  coverage: "Coverage",
  coverageHint: "Counted are caretakers in charge, against the modules that a go-ahead asks for.",
  byBranch: "By branch and module",
  byFarm: "By farm",
  enterprise: "Enterprise",
  module: "Module",
  held: "Hold it",
  lapsed: "Lapsed",
  missing: "Never passed",
  share: "Share",
  farm: "Farm",
  inCharge: "In charge",
  complete: "Hold all",
  lacks: "Lacking",
  nobody: "nobody in charge",
  nothingLacks: "nothing",
  lack: (module: string, n: number, of: number) => `${module} (${number(n)} of ${number(of)})`,
  noFarms: "Nobody works on a farm here yet, so there is nothing to count.",
  more: (n: number) => plural(n, { one: "Show 1 more", other: `Show ${number(n)} more` }),
  people: "Who is learning what",
  person: "Person",
  learning: "Learning",
  lacking: "Not passed",
  holds: "Passed",
  of: (n: number, all: number) => `${number(n)} of ${number(all)}`,
  charge: "in charge",
  noPeople: "Nobody works on a farm here yet.",
  under: {
    answered: (name: string, on: string) =>
      `${name}: questions passed on ${date(on)}, practical check to come`,
    checked: (name: string, on: string) =>
      `${name}: practical check passed on ${date(on)}, questions to come`,
    redo: (name: string, on: string) => `${name}: the practical check of ${date(on)} was not passed`,
    failed: (name: string, on: string) => `${name}: questions not passed on ${date(on)}`,
    read: (name: string, on: string) => `${name}: gone through on ${date(on)}, to be shown`,
    lapsed: (name: string, on: string) => `${name}: lapsed on ${date(on)}`,
  },
  questions: "Questions that fail",
  questionsHint:
    "The interval says how sure the share is (95 %, Wilson). When even its low end is above a third, the question or its card is at fault, not the people.",
  rewrite: (n: number) =>
    plural(n, {
      one: "1 question is to be rewritten. It stands first.",
      other: `${number(n)} questions are to be rewritten. They stand first.`,
    }),
  noRewrite: "No question is surely at fault.",
  noQuestions: "No question has been answered yet.",
  question: "Question",
  wrong: "Wrong",
  wrongOf: (wrong: number, asked: number) => `${number(wrong)} of ${number(asked)}`,
  interval: "Interval",
  between: (low: number, high: number) => `${percent(low * 100)} to ${percent(high * 100)}`,
  percent: (share: number) => percent(share * 100),
  todo: "To do",
  toRewrite: "rewrite",
  keep: "keep",
  safety: "safety",
};

export type TrainingMessages = typeof en;
export default en;
