import type { components } from "../../../../api/api.gen";
import type { Impact, TimeToLoss } from "../../ticket/urgency";
import type { Card, CardAnswer, CardQuestion } from "./cards";

/** A Given is one answer that was given; `number` holds for a number's question. */
export type Given = components["schemas"]["Given"];

/** How likely a cause is, in a word: the weights are judgements, so there is no percentage. */
export type Likelihood = "likely" | "possible" | "less-likely";

/** Where the answers have led, as domain/triage has it: one of next, ending and sign is set. */
export interface Outcome {
  next: string;
  ending: string;
  sign: string;
  suspects: { cause: string; word: Likelihood }[];
  impact: Impact;
  timeToLoss: TimeToLoss;
  danger: boolean;
}

/** walk follows the answers through a card; undefined when they do not follow it (the card has another version by now). */
export function walk(card: Card, given: readonly Given[]): Outcome | undefined {
  const scores = new Map(card.causes.map((c) => [c.key, c.weight]));
  let at = card.questions[0]?.key ?? "";
  let sign = "";
  let impact = card.impact as Impact;
  let timeToLoss = card.time_to_loss as TimeToLoss;
  for (const one of given) {
    const question = card.questions.find((q) => q.key === at);
    const answer = question && sign === "" && at === one.question ? pick(question, one) : undefined;
    if (!answer) return undefined;
    for (const [cause, by] of Object.entries(answer.moves ?? {}))
      scores.set(cause, (scores.get(cause) ?? 0) + by);
    impact = (answer.impact || impact) as Impact;
    timeToLoss = (answer.time_to_loss || timeToLoss) as TimeToLoss;
    at = answer.to ?? "";
    sign = answer.sign ?? "";
  }
  const ends = card.endings.some((e) => e.key === at);
  return {
    next: ends ? "" : at,
    ending: ends ? at : "",
    sign,
    suspects: suspects(card, scores),
    impact,
    timeToLoss,
    danger: card.danger,
  };
}

function pick(question: CardQuestion, given: Given): CardAnswer | undefined {
  if (question.kind !== "number" || given.answer === "unsure")
    return question.answers.find((a) => a.key === given.answer);
  if (!Number.isFinite(given.number) || given.number < 0) return undefined;
  return question.answers.find(
    (a) => a.key !== "unsure" && (a.below === undefined || given.number < a.below),
  );
}

// Likely from three quarters of the highest score, possible from half of it.
function suspects(card: Card, scores: ReadonlyMap<string, number>): Outcome["suspects"] {
  const score = (key: string) => scores.get(key) ?? 0;
  const top = Math.max(0, ...scores.values());
  const word = (s: number): Likelihood =>
    4 * s >= 3 * top ? "likely" : 2 * s >= top ? "possible" : "less-likely";
  return card.causes
    .filter((c) => score(c.key) > 0)
    .sort((a, b) => score(b.key) - score(a.key))
    .map((c) => ({ cause: c.key, word: word(score(c.key)) }));
}
