import type { FarmMessages } from "./en";
import { farmWords } from "./words";

/** A Reason is why something was decided: a stable code and the values its sentence needs. */
export interface Reason {
  code: string;
  values?: Record<string, unknown> | null | undefined;
}

/** What a key names: the packs and the register know the words for it. */
export type Kind =
  | "milestone"
  | "item"
  | "module"
  | "work"
  | "go-ahead"
  | "reading"
  | "sign"
  | "person"
  | "unit"
  | "rule";

/** Names gives the words for a key, undefined where it does not know them. */
export type Names = (kind: Kind, key: string) => string | undefined;

const noNames: Names = () => undefined;

/** Values reads the values of a reason; what is missing or of another type reads as nothing. */
export class Values {
  private readonly of: Record<string, unknown>;
  private readonly names: Names;

  constructor(values: Record<string, unknown> | null = {}, names: Names = noNames) {
    this.of = values ?? {};
    this.names = names;
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

  /** The words for the key that a value holds, undefined where nobody knows them. */
  known(kind: Kind, name: string): string | undefined {
    const key = this.text(name);
    return key ? this.names(kind, key) : undefined;
  }

  /** The words for the key that a value holds; the key itself where nobody knows them, "" for none. */
  name(kind: Kind, name: string): string {
    const key = this.text(name);
    return (
      key && (this.names(kind, key) ?? (kind === "person" || kind === "unit" ? "" : key.replace(/-/g, " ")))
    );
  }
}

/** A Sentence puts the values of one code into words. */
export type Sentence = (values: Values) => string;

/**
 * sayReason puts a reason into words. A code that no sentence is written for
 * (a newer server, say) is shown as it is, with its values, rather than hidden.
 */
export function sayReason(reason: Reason, names?: Names, words: FarmMessages = farmWords()): string {
  const sentence = new Map<string, Sentence>(Object.entries(words.reasons)).get(reason.code);
  if (sentence) return sentence(new Values(reason.values, names));
  const values = Object.entries(reason.values ?? {}).map(([name, value]) => `${name}: ${String(value)}`);
  return words.otherReason(reason.code, values.join(", "));
}
