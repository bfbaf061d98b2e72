import { useState } from "preact/hooks";
import { shared } from "../i18n/shared/words";
import { Field, type FieldProps } from "./field";

/**
 * SecretField takes a password or a PIN. It can be shown, pasted into and
 * filled by a password manager: nobody has to remember or copy by eye.
 */
export function SecretField({
  value,
  onValue,
  autoComplete,
  digits,
  ...field
}: FieldProps & {
  value: string;
  onValue: (value: string) => void;
  autoComplete: "current-password" | "new-password" | "one-time-code" | "off";
  digits?: boolean;
}) {
  const [shown, setShown] = useState(false);
  const words = shared().field;
  return (
    <Field {...field}>
      {(control) => (
        <span class="joined">
          <input
            {...control}
            type={shown ? "text" : "password"}
            value={value}
            autoComplete={autoComplete}
            spellcheck={false}
            autoCapitalize="off"
            {...(digits ? { inputMode: "numeric" as const } : {})}
            onInput={(e) => onValue(e.currentTarget.value)}
          />
          <button
            type="button"
            class="button button-plain"
            aria-pressed={shown}
            aria-label={`${words.showSecret}: ${field.label}`}
            onClick={() => setShown(!shown)}
          >
            {shown ? words.hideSecret : words.showSecret}
          </button>
        </span>
      )}
    </Field>
  );
}
