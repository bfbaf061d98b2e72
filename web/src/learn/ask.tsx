import { useState } from "preact/hooks";
import { language } from "../i18n/language";
import { shared } from "../i18n/shared/words";
import { Field } from "../ui/field";
import { parseNumber } from "../ui/number";
import type { Answer, Asked } from "./draw";
import { Drawing } from "./drawing";
import type { Drawings, LessonQuestion } from "./lessons";
import { Pad } from "./pad";
import { learnWords } from "./words";
import "./learn.css";

interface Props {
  question: LessonQuestion;
  asked: Asked;
  drawings: Drawings;
  onAnswer: (answer: Answer) => void;
}

/** Ask is one question with the way to answer it: a choice, an order, a picture or a number. */
export function Ask(props: Props) {
  const { question, asked } = props;
  return (
    <div class="ask" key={question.key}>
      <h2 id={`ask-${question.key}`}>{question.ask}</h2>
      {question.kind === "sum" ? (
        <Sum key={question.key} {...props} />
      ) : question.kind === "order" ? (
        <Order key={question.key} {...props} />
      ) : (
        <Choose key={question.key} {...props} asked={asked} />
      )}
    </div>
  );
}

function shown(question: LessonQuestion, asked: Asked) {
  return asked.options.flatMap((key) => question.options?.find((o) => o.key === key) ?? []);
}

function Choose({ question, asked, drawings, onAnswer }: Props) {
  const picture = question.kind === "picture";
  return (
    <>
      {picture && <p>{learnWords().pick}</p>}
      <ul class={picture ? "ask-pictures" : "ask-options"} aria-labelledby={`ask-${question.key}`}>
        {shown(question, asked).map((o) => (
          <li key={o.key}>
            <button
              type="button"
              class="ask-option"
              aria-label={o.text}
              onClick={() => onAnswer({ choice: o.key })}
            >
              {picture ? <Drawing name={o.drawing} drawings={drawings} /> : o.text}
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}

function Order({ question, asked, onAnswer }: Props) {
  const words = learnWords();
  const [order, setOrder] = useState<string[]>([]);
  const options = shown(question, asked);
  const place = (key: string) => order.indexOf(key) + 1;
  return (
    <>
      <p>{words.order}</p>
      <ul class="ask-options" aria-labelledby={`ask-${question.key}`}>
        {options.map((o) => (
          <li key={o.key}>
            <button
              type="button"
              class="ask-option"
              aria-pressed={place(o.key) > 0}
              onClick={() => place(o.key) === 0 && setOrder([...order, o.key])}
            >
              {place(o.key) > 0 ? words.placed(place(o.key), o.text) : o.text}
            </button>
          </li>
        ))}
      </ul>
      <div class="ask-actions">
        {order.length > 0 && (
          <button type="button" class="button button-plain" onClick={() => setOrder([])}>
            {words.orderAgain}
          </button>
        )}
        {order.length === options.length && (
          <button type="button" class="button button-main" onClick={() => onAnswer({ order })}>
            {words.orderDone}
          </button>
        )}
      </div>
    </>
  );
}

function Sum({ question, onAnswer }: Props) {
  const words = learnWords();
  const [typed, setTyped] = useState("");
  const value = parseNumber(typed, language.value);
  const wrong = typed.trim() !== "" && value === null ? shared().field.notANumber(typed) : undefined;
  return (
    <form
      onSubmit={(e) => {
        e.preventDefault();
        if (value !== null) onAnswer({ number: value });
      }}
    >
      <Field label={words.number} error={wrong}>
        {(control) => (
          <span class="joined">
            <input
              {...control}
              class="number"
              type="text"
              autoComplete="off"
              maxLength={20}
              // The pad stands below: the phone's own keys would only cover it.
              inputMode="none"
              value={typed}
              onInput={(e) => setTyped(e.currentTarget.value)}
            />
            {question.measure && <span class="measure">{question.measure}</span>}
          </span>
        )}
      </Field>
      <Pad text={typed} onText={setTyped} />
      <div class="ask-actions">
        <button type="submit" class="button button-main" disabled={value === null}>
          {words.give}
        </button>
      </div>
    </form>
  );
}

/** rightText is the right answer in words. */
export function rightText(question: LessonQuestion): string {
  const words = learnWords();
  const text = (key: string) => question.options?.find((o) => o.key === key)?.text ?? key;
  switch (question.kind) {
    case "sum":
      return words.rightNumber(question.answer ?? 0, question.measure ?? "");
    case "order":
      return words.rightIs((question.options ?? []).map((o, i) => words.placed(i + 1, o.text)).join(" "));
    default:
      return words.rightIs(text(question.right ?? ""));
  }
}
