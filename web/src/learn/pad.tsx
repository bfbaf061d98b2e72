import { formats } from "../i18n/format";
import { learnWords } from "./words";

// The mark before the decimals as the language writes it.
function mark(): string {
  return /\d(\D)\d/.exec(formats().number(1.5, 1))?.[1] ?? ".";
}

/** typedOn is what stands after a key of the pad was pressed; "back" takes the last one away. */
export function typedOn(text: string, key: string): string {
  if (key === "back") return text.slice(0, -1);
  if (!/\d/.test(key)) return /[.,]/.test(text) ? text : `${text || "0"}${key}`;
  return text.length < longest ? text + key : text;
}

const longest = 12;

/** Pad is large keys for a number, for a thumb that is wet or gloved; the keyboard goes on working beside it. */
export function Pad({ text, onText }: { text: string; onText: (text: string) => void }) {
  const words = learnWords().pad;
  const point = mark();
  const keys = ["1", "2", "3", "4", "5", "6", "7", "8", "9", point, "0", "back"];
  const name = (key: string) => (key === "back" ? words.back : key === point ? words.point : key);
  return (
    <fieldset class="pad" aria-label={words.title}>
      {keys.map((key) => (
        <button key={key} type="button" aria-label={name(key)} onClick={() => onText(typedOn(text, key))}>
          {key === "back" ? "⌫" : key}
        </button>
      ))}
    </fieldset>
  );
}
