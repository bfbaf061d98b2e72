import { judge, type Stock } from "../../daybook/judge";
import { formats } from "../../i18n/format";
import { Choice } from "../../ui/choice";
import { DateField } from "../../ui/date-field";
import { TextField } from "../../ui/field";
import { NumberField } from "../../ui/number-field";
import type { BookField } from "./compose";
import { phoneWords } from "./words";

/** What was filled in, by the field's key; null is empty. */
export type Values = Record<string, number | string | null>;

/** FieldOf is a field of the daybook as the pack has it. */
export function FieldOf({
  field,
  value,
  stock,
  onValue,
}: {
  field: BookField;
  value: number | string | null;
  stock: Stock;
  onValue: (value: number | string | null) => void;
}) {
  const frame = { label: field.name, ...(field.help ? { hint: field.help } : {}) };
  const words = typeof value === "string" ? value : "";
  switch (field.kind) {
    case "choice":
      return <Options field={field} value={words} onValue={onValue} />;
    case "text":
      return <TextField {...frame} value={words} onValue={onValue} optional />;
    case "date":
      return <DateField {...frame} value={words} onValue={onValue} optional />;
    default:
      return (
        <Numeric
          field={field}
          value={typeof value === "number" ? value : null}
          stock={stock}
          onValue={onValue}
        />
      );
  }
}

// Nobody has to type a zero: "none" is a press.
function Numeric({
  field,
  value,
  stock,
  onValue,
}: {
  field: BookField;
  value: number | null;
  stock: Stock;
  onValue: (value: number | null) => void;
}) {
  const { daybook: words, measures } = phoneWords();
  const { least, most, whole } = field.bounds ?? {};
  const measure = field.measure && (measures[field.measure] ?? field.measure);
  const wrong = value === null ? undefined : impossible(field, value, stock);
  return (
    <div class="phone-count">
      <NumberField
        label={field.name}
        {...(field.help ? { hint: field.help } : {})}
        {...(measure ? { measure } : {})}
        {...(wrong ? { error: wrong } : {})}
        value={value}
        onValue={onValue}
        min={least ?? 0}
        max={most ?? 10_000_000}
        whole={whole === true}
        optional
      />
      {field.none && (
        <button
          type="button"
          class="button button-plain"
          aria-label={words.noneOf(field.name)}
          aria-pressed={value === 0}
          onClick={() => onValue(0)}
        >
          {words.none}
        </button>
      )}
    </div>
  );
}

function impossible(field: BookField, value: number, stock: Stock): string | undefined {
  const words = phoneWords().daybook;
  const { verdict, why, limit } = judge(field.bounds ?? {}, value, stock);
  if (verdict !== "impossible") return undefined;
  if (why === "not-whole") return words.whole;
  return why === "over-stock" ? words.overStock(formats().number(limit ?? 0)) : words.cannotBe;
}

// A second press on the chosen answer takes it back: what was not looked at stays empty.
function Options({
  field,
  value,
  onValue,
}: {
  field: BookField;
  value: string;
  onValue: (value: string | null) => void;
}) {
  const options = (field.choices ?? []).map((c) => ({ value: c.key, label: c.name }));
  const frame = { label: field.name, ...(field.help ? { hint: field.help } : {}) };
  return (
    <div class="phone-options">
      <Choice {...frame} options={options} value={value} onValue={onValue} />
      {value !== "" && (
        <button type="button" class="button button-plain" onClick={() => onValue(null)}>
          {phoneWords().daybook.clear(field.name)}
        </button>
      )}
    </div>
  );
}
