import { useEffect, useState } from "preact/hooks";
import { language } from "../i18n/language";
import { shared } from "../i18n/shared/words";
import { Field, type FieldProps } from "./field";
import { parseNumber } from "./number";

/**
 * NumberField takes a number with its measure. Comma and point both read as
 * decimals; what cannot be read stays as typed, with a sentence that says so.
 * onValue gets null for an empty or unreadable field.
 */
export function NumberField({
  value,
  onValue,
  measure,
  measures,
  onMeasure,
  min,
  max,
  whole,
  error,
  ...field
}: FieldProps & {
  value: number | null;
  onValue: (value: number | null) => void;
  measure?: string;
  /** Measures to choose from, as ft and m; with onMeasure. */
  measures?: readonly string[];
  onMeasure?: (measure: string) => void;
  min?: number;
  max?: number;
  whole?: boolean;
}) {
  const [typed, setTyped] = useState(() => written(value));
  const read = parseNumber(typed, language.value);
  useEffect(() => {
    if (value !== parseNumber(typed, language.peek()) && value !== null) setTyped(written(value));
  }, [value]);
  const wrong = error ?? trouble(typed, read, min, max);
  const take = (text: string) => {
    setTyped(text);
    const number = parseNumber(text, language.peek());
    onValue(number !== null && trouble(text, number, min, max) === undefined ? number : null);
  };
  return (
    <Field {...field} error={wrong}>
      {(control) => (
        <span class="joined">
          <input
            {...control}
            class="number"
            type="text"
            autoComplete="off"
            maxLength={20}
            inputMode={whole ? "numeric" : "decimal"}
            value={typed}
            onInput={(e) => take(e.currentTarget.value)}
          />
          {measures && onMeasure ? (
            <select
              aria-label={`${shared().field.measure}: ${field.label}`}
              value={measure}
              onChange={(e) => onMeasure(e.currentTarget.value)}
            >
              {measures.map((m) => (
                <option key={m}>{m}</option>
              ))}
            </select>
          ) : (
            measure && <span class="measure">{measure}</span>
          )}
        </span>
      )}
    </Field>
  );
}

function written(value: number | null): string {
  if (value === null) return "";
  return language.peek() === "fr" ? String(value).replace(".", ",") : String(value);
}

function trouble(typed: string, read: number | null, min?: number, max?: number): string | undefined {
  if (typed.trim() === "") return undefined;
  const words = shared().field;
  if (read === null) return words.notANumber(typed);
  if (min !== undefined && read < min) return words.tooSmall(min);
  if (max !== undefined && read > max) return words.tooBig(max);
  return undefined;
}
