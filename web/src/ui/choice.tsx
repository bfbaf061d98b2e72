import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";
import { Field, type FieldProps } from "./field";

/** An Option of a choice; a picture never stands without its words. */
export interface Option<V extends string> {
  value: V;
  label: string;
  hint?: string;
  picture?: ComponentChildren;
}

/** Choice shows every option at once: for few, for thumbs, for reading aloud. */
export function Choice<V extends string>({
  label,
  hint,
  error,
  options,
  value,
  onValue,
}: FieldProps & { options: readonly Option<V>[]; value: V | ""; onValue: (value: V) => void }) {
  const id = useId();
  const described = [hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(" ") || undefined;
  return (
    <fieldset class={error ? "choice field-wrong" : "choice"} aria-describedby={described}>
      <legend>{label}</legend>
      {hint && (
        <p class="field-hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {options.map((option) => (
        <label key={option.value} class="choice-option">
          <input
            type="radio"
            name={id}
            value={option.value}
            checked={option.value === value}
            onChange={() => onValue(option.value)}
          />
          {option.picture && <span class="choice-picture">{option.picture}</span>}
          <span>
            {option.label}
            {option.hint && <span class="field-hint">{option.hint}</span>}
          </span>
        </label>
      ))}
      {error && (
        <p class="field-error" id={`${id}-error`}>
          {error}
        </p>
      )}
    </fieldset>
  );
}

/** SelectField takes one of many in a list that opens; `blank` is the words for none chosen. */
export function SelectField<V extends string>({
  options,
  value,
  onValue,
  blank,
  ...field
}: FieldProps & {
  options: readonly Option<V>[];
  value: V | "";
  onValue: (value: V | "") => void;
  blank?: string;
}) {
  return (
    <Field {...field}>
      {(control) => (
        <select {...control} value={value} onChange={(e) => onValue(e.currentTarget.value as V | "")}>
          {blank !== undefined && <option value="">{blank}</option>}
          {options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.label}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}
