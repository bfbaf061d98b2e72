import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { packOf } from "../../../../farm/packs";
import { type Language, languages } from "../../../../i18n/language";
import { Urgency } from "../../../../marks/marks";
import { Button } from "../../../../ui/button";
import { SelectField } from "../../../../ui/choice";
import { callerLanguage } from "../../brief/caller";
import { urgencyOf } from "../../ticket/urgency";
import { deskWords } from "../../words";
import type { PartProps } from "../call-form";
import type { DraftCard } from "../draft";
import { type Card, type CardAnswer, type CardQuestion, cardOf, spoken } from "./cards";
import { Ended } from "./ended";
import { NumberAnswer } from "./number-answer";
import { TextMessage } from "./text-message";
import { type Given, type Outcome, walk } from "./walk";

interface WalkProps extends PartProps {
  enterprise: string;
  card: Card;
  name: string;
  /** Another sign's card goes on: a person is in danger. */
  onSign: (sign: string) => void;
}

/**
 * CardWalk asks what the card asks, a question at a time: the digits choose,
 * Backspace goes one back, Enter takes a number. The sentences are said in
 * the caller's language, whatever the desk speaks.
 */
export function CardWalk({ farm, draft, set, enterprise, card, name, onSign }: WalkProps) {
  const words = deskWords().call.card;
  const [typed, setTyped] = useState("");
  const box = useRef<HTMLElement>(null);
  const moved = useRef(false);
  const fresh: DraftCard = {
    enterprise,
    sign: card.sign,
    version: card.version,
    language: callerLanguage(farm, draft.who),
    answers: [],
    why: "",
    text: "",
  };
  const mine = draft.card?.sign === card.sign && draft.card.enterprise === enterprise ? draft.card : fresh;
  const given = walk(card, mine.answers) ? mine.answers : [];
  const outcome = walk(card, given) as Outcome;
  const question = card.questions.find((q) => q.key === outcome.next);

  const put = (answers: readonly Given[]) => {
    moved.current = true;
    setTyped("");
    const to = walk(card, answers);
    if (!to) return;
    if (to.sign) return onSign(to.sign);
    const asked = draft.outcome === "noted" && to.ending !== "" ? "ticket" : draft.outcome;
    set({
      card: { ...mine, version: card.version, answers: [...answers] },
      impact: to.impact,
      timeToLoss: to.timeToLoss,
      danger: to.danger,
      outcome: asked,
    });
  };
  const answer = (a: CardAnswer) =>
    question && put([...given, { question: question.key, answer: a.key, number: 0 }]);
  const back = () => given.length > 0 && put(given.slice(0, -1));

  useLayoutEffect(() => {
    // What was answered is gone from under the fingers: the next question takes the focus.
    if (!moved.current) return;
    moved.current = false;
    box.current?.querySelector<HTMLElement>(".card-ask button, .card-ask input, .card-end h3")?.focus();
  }, [outcome.next, outcome.ending]);
  useEffect(() => {
    // A card that was taken up for danger stands where the one before stood.
    if (draft.card?.sign !== card.sign && draft.danger)
      box.current?.querySelector<HTMLElement>(".card-ask button")?.focus();
  }, [card.sign]);

  const press = (event: KeyboardEvent) => {
    const typing =
      event.target instanceof HTMLElement && /^(INPUT|TEXTAREA|SELECT)$/.test(event.target.tagName);
    if (typing || event.ctrlKey || event.altKey || event.metaKey) return;
    if (event.key === "Backspace") {
      event.preventDefault();
      back();
    }
    const chosen = question?.answers[Number(event.key) - 1];
    if (chosen && question.kind !== "number") {
      event.preventDefault();
      answer(chosen);
    }
  };

  return (
    <section
      class={card.danger ? "card-walk card-walk-danger" : "card-walk"}
      ref={box}
      aria-label={words.title(name)}
      onKeyDown={press}
    >
      <header class="card-head">
        <h2>{words.title(name)}</h2>
        <Urgency urgency={urgencyOf(outcome)} />
      </header>
      {question && (
        <div class="card-ask">
          {question.danger && <p class="card-people">{words.people}</p>}
          <p class="card-say" lang={mine.language} role="status">
            {spoken(question.say, mine.language)}
          </p>
          {question.kind === "number" ? (
            <NumberAnswer
              key={question.key}
              measure={question.measure?.[mine.language] ?? ""}
              typed={typed}
              onTyped={setTyped}
              unsure={question.answers.some((a) => a.key === "unsure")}
              onAnswer={(number) => put([...given, { question: question.key, answer: "", number }])}
              onUnsure={() => put([...given, { question: question.key, answer: "unsure", number: 0 }])}
            />
          ) : (
            <Answers question={question} language={mine.language} onAnswer={answer} />
          )}
          {question.kind === "photo" && (
            <TextMessage
              label={words.pictureText}
              text={pictureIn(mine.language)}
              phone={phoneOf(farm, draft)}
              onSent={(text) => set({ card: { ...mine, answers: [...given], text } })}
            />
          )}
        </div>
      )}
      {outcome.ending !== "" && (
        <Ended
          card={card}
          outcome={outcome}
          language={mine.language}
          phone={phoneOf(farm, draft)}
          text={mine.text}
          cautions={packOf(enterprise)?.cautions ?? {}}
          onText={(text) => set({ card: { ...mine, text } })}
        />
      )}
      {given.length > 0 && (
        <details class="card-answered">
          <summary>{words.answered(given.length)}</summary>
          <ol>
            {given.map((g) => (
              <Answered key={g.question} card={card} given={g} language={mine.language} />
            ))}
          </ol>
        </details>
      )}
      <div class="card-foot">
        {given.length > 0 && (
          <Button kind="quiet" onClick={back}>
            {words.back} <kbd>⌫</kbd>
          </Button>
        )}
        <SelectField<Language>
          label={words.spoken}
          options={languages.map((l) => ({ value: l, label: words.languages[l] }))}
          value={mine.language}
          onValue={(language) => language && set({ card: { ...mine, language } })}
        />
      </div>
      {differs(draft, outcome) && (
        <label class="card-why">
          {words.why}
          <input
            type="text"
            maxLength={500}
            value={mine.why}
            onInput={(event) => set({ card: { ...mine, why: event.currentTarget.value } })}
          />
        </label>
      )}
    </section>
  );
}

/** differs says whether the advisor's own judgement is not the card's: then a reason is needed. */
export function differs(draft: PartProps["draft"], outcome: Outcome): boolean {
  return (
    outcome.ending !== "" &&
    draft.outcome === "ticket" &&
    (draft.impact !== outcome.impact ||
      draft.timeToLoss !== outcome.timeToLoss ||
      draft.danger !== outcome.danger)
  );
}

/** lacksWhy says whether the draft overrules its card without a reason. */
export function lacksWhy(draft: PartProps["draft"]): boolean {
  const given = draft.card;
  const card = given && cardOf(given.enterprise, given.sign);
  const outcome = card && walk(card, given.answers);
  return outcome !== undefined && differs(draft, outcome) && given?.why.trim() === "";
}

// A picture is sent where trouble is reported: the farm's own page on the phone.
function pictureIn(language: Language): string {
  const link = `${location.origin}/today/trouble`;
  return language === "fr"
    ? `Prenez en photo ce que vous voyez et envoyez-la ici : ${link}`
    : `Please take a picture of what you see and send it here: ${link}`;
}

function phoneOf(farm: PartProps["farm"], draft: PartProps["draft"]): string {
  const who = farm?.people.find((p) => p.person_id === draft.who);
  return who?.phone || (draft.who === "client" ? farm?.owner.phone : "") || draft.phone;
}

function Answers({
  question,
  language,
  onAnswer,
}: {
  question: CardQuestion;
  language: Language;
  onAnswer: (answer: CardAnswer) => void;
}) {
  return (
    <ul class="card-choices">
      {question.answers.map((a, i) => (
        <li key={a.key}>
          <button type="button" class="button" onClick={() => onAnswer(a)}>
            <kbd>{i + 1}</kbd>{" "}
            {a.text ? <span lang={language}>{spoken(a.text, language)}</span> : named(a.key)}
          </button>
        </li>
      ))}
    </ul>
  );
}

function named(key: string): string {
  const words = deskWords().call.card;
  return { yes: words.yes, no: words.no }[key] ?? words.unsure;
}

function Answered({ card, given, language }: { card: Card; given: Given; language: Language }) {
  const question = card.questions.find((q) => q.key === given.question);
  const answer = question?.answers.find((a) => a.key === given.answer);
  const number = question?.kind === "number" && given.answer !== "unsure";
  return (
    <li>
      <span lang={language}>{spoken(question?.say, language)}</span>{" "}
      <b>
        {number
          ? `${given.number} ${question?.measure?.[language] ?? ""}`
          : spoken(answer?.text, language) || named(given.answer)}
      </b>
    </li>
  );
}
