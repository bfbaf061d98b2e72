import type { PackText } from "../../../../api/types";
import { said } from "../../../../farm/packs";
import type { Language } from "../../../../i18n/language";
import { deskWords } from "../../words";
import { type Card, curly, spoken } from "./cards";
import { TextMessage } from "./text-message";
import { plain } from "./text-size";
import type { Outcome } from "./walk";

interface Props {
  card: Card;
  outcome: Outcome;
  language: Language;
  phone: string;
  /** The text message that goes with the note, "" = none. */
  text: string;
  cautions: Readonly<Record<string, PackText>>;
  onText: (text: string) => void;
}

// What nobody outside has printed.
const unchecked = new Set(["from-memory", "constructed", "common-practice"]);

/** Ended says what the card came to: what to do now, the advice, the causes in words, the cautions, and who goes there. */
export function Ended({ card, outcome, language, phone, text, cautions, onText }: Props) {
  const words = deskWords().call.card;
  const ending = card.endings.find((e) => e.key === outcome.ending);
  if (!ending) return null;
  const now = spoken(ending.now, language);
  const advice = spoken(ending.advice, language);
  return (
    <div class="card-end">
      {now && (
        <>
          <h3 tabIndex={-1}>{words.now}</h3>
          <p class="card-now" lang={language}>
            {now}
          </p>
        </>
      )}
      <h3 tabIndex={-1}>{words.advice}</h3>
      <p lang={language}>{advice}</p>
      {(unchecked.has(ending.grade) || ending.note) && (
        <p class="field-hint">
          {unchecked.has(ending.grade) ? words.estimate : ending.note}
          {unchecked.has(ending.grade) ? "" : ` (${ending.source})`}
        </p>
      )}
      <p class="card-go">
        {words.go[ending.go]} {ending.tell && <strong>{words.tell}</strong>}
      </p>
      <ul class="card-cautions" aria-label={words.cautions} lang={language}>
        {ending.cautions.map((key) => (
          <li key={key}>{spoken(cautions[key], language) || key}</li>
        ))}
      </ul>
      <p class="card-causes">
        {words.causes}:{" "}
        {outcome.suspects
          .slice(0, 3)
          .map((s) => `${causeOf(card, s.cause)} (${words.likelihoods[s.word]})`)
          .join("; ")}
      </p>
      <TextMessage
        label={words.text}
        text={plain([now, advice].filter(Boolean).join(" "))}
        phone={phone}
        goes={text}
        onSent={onText}
      />
    </div>
  );
}

// For the advisor, so in the desk's language.
function causeOf(card: Card, key: string): string {
  return curly(said(card.causes.find((c) => c.key === key)?.text)) || key;
}
