/** A civil date as days since 1970-01-01, so that dates can be counted with. */
export type Day = number;

const millisecondsPerDay = 86_400_000;
const iso = /^(\d{4})-(\d{2})-(\d{2})$/;

/** parseDay reads 2026-03-12 as the API sends it; "" and anything else is no date. */
export function parseDay(text: string | null | undefined): Day | null {
  const parts = iso.exec(text ?? "");
  if (!parts) return null;
  const [year, month, day] = parts.slice(1).map(Number) as [number, number, number];
  const at = new Date(Date.UTC(year, month - 1, day));
  if (at.getUTCMonth() !== month - 1 || at.getUTCDate() !== day) return null;
  return at.getTime() / millisecondsPerDay;
}

/** isoOf writes a day as the API reads it: 2026-03-12. */
export function isoOf(day: Day): string {
  return new Date(day * millisecondsPerDay).toISOString().slice(0, 10);
}

/** partsOf gives year, month (1 to 12) and day of the month. */
export function partsOf(day: Day): { year: number; month: number; day: number } {
  const at = new Date(day * millisecondsPerDay);
  return { year: at.getUTCFullYear(), month: at.getUTCMonth() + 1, day: at.getUTCDate() };
}

/** firstOfMonth gives the day on which a month begins; months outside 1 to 12 carry into other years. */
export function firstOfMonth(year: number, month: number): Day {
  return Date.UTC(year, month - 1, 1) / millisecondsPerDay;
}

/** dayOf gives the date that an instant shows on the wall of a zone (the device's own when none is given). */
export function dayOf(instant: Date, zone?: string): Day {
  const format = new Intl.DateTimeFormat("en-CA", {
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    ...(zone ? { timeZone: zone } : {}),
  });
  const parts = Object.fromEntries(format.formatToParts(instant).map((p) => [p.type, p.value]));
  return parseDay(`${parts.year}-${parts.month}-${parts.day}`) as Day;
}

/** today is the date on the wall now. */
export function today(zone?: string): Day {
  return dayOf(new Date(), zone);
}
