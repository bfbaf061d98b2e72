import { parseDay, partsOf } from "../time/day";
import { type Language, language } from "./language";

/** The forms of a word by Intl.PluralRules; French has "many" for round millions. */
export interface Forms {
  one: string;
  other: string;
  many?: string;
}

/** Formats puts numbers, dates and counts into one language. */
export interface Formats {
  /** number with a decimal comma in French; digits is the most after the comma. */
  number(value: number, digits?: number): string;
  /** A number and its measure, kept on one line: 12.5 g. */
  measure(value: number, measure: string, digits?: number): string;
  percent(value: number, digits?: number): string;
  /** 12 Mar 2026, from 2026-03-12 or a day count; "" for no date. */
  date(date: string | number | null | undefined): string;
  /** 12 Mar, where the year is plain from what stands around it. */
  shortDate(date: string | number | null | undefined): string;
  /** Mar, or M where there is room for one letter only. */
  month(month: number, narrow?: boolean): string;
  /** 10:40 on the wall of a zone. */
  time(instant: string | Date, zone?: string): string;
  /** 12 Mar 2026, 10:40. */
  dateTime(instant: string | Date, zone?: string): string;
  plural(count: number, forms: Forms): string;
  /** 3 days. */
  days(count: number): string;
  /** 5 days ago, today, in 2 days: only ever beside a date. */
  ago(from: number, today: number): string;
  /** a, b and c. */
  list(items: readonly string[]): string;
}

const months: Record<Language, readonly string[]> = {
  en: ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"],
  fr: ["janv.", "févr.", "mars", "avr.", "mai", "juin", "juil.", "août", "sept.", "oct.", "nov.", "déc."],
};

const locales: Record<Language, string> = { en: "en-GB", fr: "fr-FR" };
const nbsp = "\u00a0";

function dayCount(date: string | number | null | undefined): number | null {
  return typeof date === "number" ? date : parseDay(date);
}

function make(lang: Language): Formats {
  const locale = locales[lang];
  const rules = new Intl.PluralRules(locale);
  const number = (value: number, digits = 0) =>
    new Intl.NumberFormat(locale, { maximumFractionDigits: digits }).format(value);
  const month = (at: number, narrow = false) => {
    const name = months[lang][at - 1] ?? "";
    return narrow ? name.slice(0, 1).toUpperCase() : name;
  };
  const shortDate = (date: string | number | null | undefined) => {
    const count = dayCount(date);
    if (count === null) return "";
    const { day, month: at } = partsOf(count);
    return `${lang === "fr" && day === 1 ? "1er" : day}${nbsp}${month(at)}`;
  };
  const date = (of: string | number | null | undefined) => {
    const count = dayCount(of);
    return count === null ? "" : `${shortDate(count)}${nbsp}${partsOf(count).year}`;
  };
  const wall = (instant: string | Date, zone?: string) => {
    const format = new Intl.DateTimeFormat("en-CA", {
      dateStyle: "short",
      timeStyle: "short",
      hourCycle: "h23",
      ...(zone ? { timeZone: zone } : {}),
    });
    const parts = format.formatToParts(new Date(instant));
    const part = (type: string) => parts.find((p) => p.type === type)?.value ?? "";
    return {
      date: `${part("year")}-${part("month")}-${part("day")}`,
      time: `${part("hour")}:${part("minute")}`,
    };
  };
  const plural = (count: number, forms: Forms) => {
    const form = rules.select(count);
    return form === "one" ? forms.one : form === "many" ? (forms.many ?? forms.other) : forms.other;
  };
  const days = (count: number) => {
    const n = number(count);
    return lang === "fr"
      ? plural(count, { one: `${n}${nbsp}jour`, other: `${n}${nbsp}jours`, many: `${n} de jours` })
      : plural(count, { one: `${n}${nbsp}day`, other: `${n}${nbsp}days` });
  };
  const ago = (from: number, now: number) => {
    const gone = now - from;
    if (gone === 0) return lang === "fr" ? "aujourd’hui" : "today";
    if (lang === "fr") return gone > 0 ? `il y a ${days(gone)}` : `dans ${days(-gone)}`;
    return gone > 0 ? `${days(gone)} ago` : `in ${days(-gone)}`;
  };
  return {
    number,
    measure: (value, measure, digits = 0) => `${number(value, digits)}${nbsp}${measure}`,
    percent: (value, digits = 0) => `${number(value, digits)}${nbsp}%`,
    date,
    shortDate,
    month,
    time: (instant, zone) => wall(instant, zone).time,
    dateTime: (instant, zone) => {
      const on = wall(instant, zone);
      return `${date(on.date)}, ${on.time}`;
    },
    plural,
    days,
    ago,
    list: (items) => joined(items, lang === "fr" ? "et" : "and"),
  };
}

function joined(items: readonly string[], and: string): string {
  if (items.length < 2) return items[0] ?? "";
  return `${items.slice(0, -1).join(", ")} ${and} ${items[items.length - 1]}`;
}

const made: Partial<Record<Language, Formats>> = {};

/** formatsOf gives the formats of one language; message files use it for the numbers inside their sentences. */
export function formatsOf(lang: Language): Formats {
  made[lang] ??= make(lang);
  return made[lang] as Formats;
}

/** formats gives those of the language spoken now; a component that calls it follows the language. */
export function formats(): Formats {
  return formatsOf(language.value);
}
