import { formatsOf } from "../../i18n/format";

const { date } = formatsOf("en");

/** The words of an owner. */
const en = {
  title: "My farms",
  none: "No farm stands under your name yet. Ask the firm.",
  harvest: (p50: string, p90: string) =>
    `First harvest: most likely around ${date(p50)}, 9 times in 10 before ${date(p90)}.`,
  estimate:
    "This is an estimate from what is known today, not a promise of income. If something changes, the firm calls you.",
  notYet: "The dates are worked out as soon as the first day is on record.",
  ahead: "What lies ahead",
  aheadOf: (unit: string) => `What lies ahead: ${unit}`,
  ask: "Ask for a visit",
  askOf: (farm: string) => `Ask for a visit: ${farm}`,
  what: "What should be looked at?",
  send: "Send",
  sent: "The firm has your wish.",
  more: "More",
};

export type MineMessages = typeof en;
export default en;
