import { formats } from "../../../i18n/format";
import { dayOf } from "../../../time/day";
import { deskWords } from "../words";
import { spanOf, type Wanted } from "./due";

/** whenOf names a time the way one reads it at the desk: today by its hour, another day with its date, on the wall of the farm's branch. */
export function whenOf(at: Date, now: Date, zone?: string): string {
  const { shortDate, time } = formats();
  const day = dayOf(at, zone);
  if (day === dayOf(now, zone)) return deskWords().ticket.due.todayAt(time(at, zone));
  return `${shortDate(day)}, ${time(at, zone)}`;
}

/** farOf is how far a time is from now, only ever beside the time itself. */
export function farOf(at: Date, now: Date): string {
  const { due, spans } = deskWords().ticket;
  const far = spanOf(at.getTime() - now.getTime());
  const text = spans[far.measure](far.amount);
  return at > now ? due.in(text) : due.ago(text);
}

/** sayWanted puts what is due into words: "plan by 14 Mar, 10:40 (in 2 days)". */
export function sayWanted(wanted: Wanted | null, now: Date, zone?: string): string {
  const { due } = deskWords().ticket;
  if (!wanted) return due.nothing;
  return `${due[wanted.what](whenOf(wanted.by, now, zone))} (${farOf(wanted.by, now)})`;
}
