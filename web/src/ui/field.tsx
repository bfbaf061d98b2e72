import type { ComponentChildren, InputHTMLAttributes } from "preact";
import { useId } from "preact/hooks";
import { shared } from "../i18n/shared/words";

/** What every field has. `error` is a sentence; `optional` says so beside the label. */
export interface FieldProps {
  label: string;
  hint?: string | undefined;
  error?: string | undefined;
  optional?: boolean | undefined;
  disabled?: boolean | undefined;
}

/** Control is what a field gives its input: the id of the label and what describes it. */
export interface Control {
  id: string;
  disabled?: boolean;
  "aria-describedby": string | undefined;
  "aria-invalid": "true" | undefined;
  "aria-required": "true" | undefined;
}

/** Field puts a label above an input, a hint between them and an error where there is one; `full` says that no more fits. */
export function Field({
  label,
  hint,
  error,
  optional,
  disabled,
  full,
  children,
}: FieldProps & { full?: string | undefined } & { children: (control: Control) => ComponentChildren }) {
  const id = useId();
  const described = [hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(" ");
  return (
    <div class={error ? "field field-wrong" : "field"}>
      <label for={id}>
        {label} {optional && <span class="field-optional">{shared().field.optional}</span>}
      </label>
      {hint && (
        <p class="field-hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {children({
        id,
        ...(disabled ? { disabled } : {}),
        "aria-describedby": described || undefined,
        "aria-invalid": error ? "true" : undefined,
        "aria-required": optional ? undefined : "true",
      })}
      {error && (
        <p class="field-error" id={`${id}-error`}>
          {error}
        </p>
      )}
      {full && (
        <p class="field-hint" role="status">
          {full}
        </p>
      )}
    </div>
  );
}

// A browser stops at the length in silence, and cuts what is pasted.
function fullOf(value: string, most: number | undefined): string | undefined {
  return most && value.length >= most ? shared().field.full(most) : undefined;
}

type Input = Pick<
  InputHTMLAttributes<HTMLInputElement>,
  "autoComplete" | "inputMode" | "maxLength" | "spellcheck" | "lang" | "onBlur" | "autoFocus"
>;

/** TextField takes a line of text. */
export function TextField({
  value,
  onValue,
  input,
  type = "text",
  ...field
}: FieldProps & {
  value: string;
  onValue: (value: string) => void;
  type?: "text" | "email" | "search" | "tel";
  input?: Input;
}) {
  return (
    <Field {...field} full={fullOf(value, input?.maxLength as number | undefined)}>
      {(control) => (
        <input
          {...input}
          {...control}
          type={type}
          value={value}
          onInput={(e) => onValue(e.currentTarget.value)}
        />
      )}
    </Field>
  );
}

/** TextArea takes several lines; it keeps `maxLength` characters at most. */
export function TextArea({
  value,
  onValue,
  rows = 4,
  maxLength,
  ...field
}: FieldProps & { value: string; onValue: (value: string) => void; rows?: number; maxLength?: number }) {
  return (
    <Field {...field} full={fullOf(value, maxLength)}>
      {(control) => (
        <textarea
          {...control}
          rows={rows}
          {...(maxLength ? { maxLength } : {})}
          value={value}
          onInput={(e) => onValue(e.currentTarget.value)}
        />
      )}
    </Field>
  );
}

/** PhoneField takes a phone number as people say it; the server reads it with a numbering plan. */
export function PhoneField(props: FieldProps & { value: string; onValue: (value: string) => void }) {
  const hint = props.hint ?? shared().field.phoneHint;
  return (
    <TextField
      {...props}
      hint={hint}
      type="tel"
      input={{ autoComplete: "tel", inputMode: "tel", maxLength: 40 }}
    />
  );
}

/** CheckField is one yes or no that stands by itself. */
export function CheckField({
  label,
  hint,
  checked,
  onChecked,
  disabled,
}: Omit<FieldProps, "error" | "optional"> & { checked: boolean; onChecked: (checked: boolean) => void }) {
  const id = useId();
  return (
    <div class="check">
      <input
        id={id}
        type="checkbox"
        checked={checked}
        disabled={disabled ?? false}
        aria-describedby={hint ? `${id}-hint` : undefined}
        onChange={(e) => onChecked(e.currentTarget.checked)}
      />
      <label for={id}>{label}</label>
      {hint && (
        <p class="field-hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
    </div>
  );
}
