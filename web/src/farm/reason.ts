import type { FarmMessages } from "./en";
import { farmWords } from "./words";

/** A Reason is why something was decided: a stable code and the values its sentence needs. */
export interface Reason {
  code: string;
  values?: Record<string, unknown> | undefined;
}

/** Values reads the values of a reason; what is missing or of another type reads as nothing. */
export class Values {
  private readonly of: Record<string, unknown>;

  constructor(values: Record<string, unknown> = {}) {
    this.of = values;
  }

  number(name: string): number {
    const value = this.of[name];
    return typeof value === "number" && Number.isFinite(value) ? value : 0;
  }

  text(name: string): string {
    const value = this.of[name];
    return typeof value === "string" ? value : "";
  }

  has(name: string): boolean {
    const value = this.of[name];
    return value !== undefined && value !== null && value !== "";
  }
}

/** A Sentence puts the values of one code into words. */
export type Sentence = (values: Values) => string;

/**
 * sayReason puts a reason into words. A code that no sentence is written for
 * (a newer server, say) is shown as it is, with its values, rather than hidden.
 */
export function sayReason(reason: Reason, words: FarmMessages = farmWords()): string {
  const sentence = new Map<string, Sentence>(Object.entries(words.reasons)).get(reason.code);
  if (sentence) return sentence(new Values(reason.values));
  const values = Object.entries(reason.values ?? {}).map(([name, value]) => `${name}: ${String(value)}`);
  return words.otherReason(reason.code, values.join(", "));
}
