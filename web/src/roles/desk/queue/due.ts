import type { TicketLine } from "../../../api/types";
import { dayOf } from "../../../time/day";

/** What a ticket still wants from a person, and by when. */
export interface Wanted {
  what: "first-word" | "plan";
  by: Date;
  overdue: boolean;
}

/** instant reads a time of the API; the zero time of the server is none. */
export function instant(text: string): Date | null {
  const at = new Date(text);
  return Number.isNaN(at.getTime()) || at.getUTCFullYear() < 1970 ? null : at;
}

/**
 * wantedOf is what is due next: a first word, then a plan, which is there once
 * a person has the ticket in hand or it waits for somebody (domain/ticket/desk.go).
 */
export function wantedOf(ticket: TicketLine, now: Date): Wanted | null {
  if (ticket.state === "settled") return null;
  if (!instant(ticket.first_word_at)) return due("first-word", ticket.first_word_by, now);
  if (ticket.state === "reported" || ticket.state === "assessed") return due("plan", ticket.plan_by, now);
  return null;
}

function due(what: Wanted["what"], text: string, now: Date): Wanted | null {
  const by = instant(text);
  return by && { what, by, overdue: by <= now };
}

/** Span is a stretch of time in the measure that people would name. */
export interface Span {
  amount: number;
  measure: "minutes" | "hours" | "days";
}

const minute = 60_000;
const hour = 60 * minute;
const day = 24 * hour;

/** spanOf rounds a stretch of milliseconds down to minutes, hours or days, the way one would say it. */
export function spanOf(milliseconds: number): Span {
  const long = Math.abs(milliseconds);
  if (long < 2 * hour) return { amount: Math.floor(long / minute), measure: "minutes" };
  if (long < 2 * day) return { amount: Math.floor(long / hour), measure: "hours" };
  return { amount: Math.floor(long / day), measure: "days" };
}

/** endOfDay is the instant at which the day of `now` ends on the wall of a zone. */
export function endOfDay(now: Date, zone?: string): Date {
  const today = dayOf(now, zone);
  // A zone's midnight is found by halving: days of 23 or 25 hours exist.
  let [before, after] = [now.getTime(), now.getTime() + 2 * day];
  while (after - before > 1000) {
    const middle = Math.floor((before + after) / 2);
    if (dayOf(new Date(middle), zone) > today) after = middle;
    else before = middle;
  }
  return new Date(Math.floor(after / 1000) * 1000);
}

/**
 * instantAt is the instant at which the wall of a zone shows a date and a
 * time; null where one of the two cannot be read. A time that a clock change
 * skips gives the one an hour later.
 */
export function instantAt(date: string, time: string, zone?: string): Date | null {
  const wall = Date.parse(`${date}T${time}:00Z`);
  if (!/^\d{4}-\d{2}-\d{2}$/.test(date) || !/^\d{2}:\d{2}$/.test(time) || Number.isNaN(wall)) return null;
  const first = wall - offset(wall, zone);
  return new Date(wall - offset(first, zone));
}

// How far the wall of a zone is ahead of UTC at an instant, in milliseconds.
function offset(at: number, zone?: string): number {
  const parts = new Intl.DateTimeFormat("en-CA", {
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
    second: "2-digit",
    hourCycle: "h23",
    ...(zone ? { timeZone: zone } : {}),
  }).formatToParts(new Date(at));
  const part = (type: string) => Number(parts.find((p) => p.type === type)?.value ?? 0);
  const shown = Date.UTC(
    part("year"),
    part("month") - 1,
    part("day"),
    part("hour"),
    part("minute"),
    part("second"),
  );
  return shown - Math.floor(at / 1000) * 1000;
}
