import { formatsOf } from "../../i18n/format";

const { date } = formatsOf("en");

/** The words of the field officer. */
const en = {
  title: "Today’s round",
  today: (on: string) => `Today, ${date(on)}`,
  none: "No visit is planned for you today.",
  late: "Not reported yet",
  lateHint: "These were planned for an earlier day. Say what was found, or why nobody went.",
  ahead: "In the next days",
  farm: "Open the farm: agenda, checklists, weighing",
  dark: "Be back before dark. Do not go into a closed area. On a farm where disease is suspected go last, with its own boots and nets.",
  more: "More",
};

export type RoundMessages = typeof en;
export default en;
