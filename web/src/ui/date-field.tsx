import { formats } from "../i18n/format";
import { shared } from "../i18n/shared/words";
import { isoOf, today } from "../time/day";
import { Field, type FieldProps } from "./field";

/**
 * DateField takes a date as 2026-03-12, "" for none. The browser draws the
 * input in its own order of day and month, so the date also stands in words.
 */
export function DateField({
  value,
  onValue,
  min,
  max,
  quick,
  ...field
}: FieldProps & {
  value: string;
  onValue: (value: string) => void;
  min?: string;
  max?: string;
  /** Offers today and yesterday as buttons. */
  quick?: boolean;
}) {
  const words = shared().field;
  const now = today();
  return (
    <Field {...field}>
      {(control) => (
        <span class="joined">
          <input
            {...control}
            type="date"
            value={value}
            {...(min ? { min } : {})}
            {...(max ? { max } : {})}
            onInput={(e) => onValue(e.currentTarget.value)}
          />
          <output for={control.id}>{formats().date(value)}</output>
          {quick && (
            <>
              <button type="button" class="button button-plain" onClick={() => onValue(isoOf(now))}>
                {words.today}
              </button>
              <button type="button" class="button button-plain" onClick={() => onValue(isoOf(now - 1))}>
                {words.yesterday}
              </button>
            </>
          )}
        </span>
      )}
    </Field>
  );
}
