import { formats } from "../i18n/format";
import { type Day, firstOfMonth, partsOf } from "../time/day";

const most = 60;

/** Month is the first day of a month with the month (1 to 12) and the year that it begins. */
export interface Month {
  first: Day;
  year: number;
  month: number;
}

/** monthsBetween are the months that begin after the first day and no later than the last; not more than five years. */
export function monthsBetween(from: Day, to: Day): Month[] {
  const { year, month } = partsOf(from);
  const months: Month[] = [];
  for (let at = month + 1; months.length < most; at++) {
    const first = firstOfMonth(year, at);
    if (first > to) break;
    months.push({ first, ...partsOf(first) });
  }
  return months;
}

/** nameOfMonth names a month on an axis: January bears the year, which takes the place of February where months stand close. */
export function nameOfMonth({ year, month }: Month, tight: boolean): string {
  if (month === 1) return String(year);
  return month === 2 && tight ? "" : formats().month(month, tight);
}
