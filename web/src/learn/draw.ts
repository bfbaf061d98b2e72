import { streamOf } from "./stream";

/** What marking needs to know of a question, as the server has it. */
export interface Question {
  key: string;
  kind: string;
  safety?: boolean;
  /** Of an order: in the right order. */
  options?: readonly string[];
  right?: string;
  answer?: number;
  tolerance?: number;
}

/** A Bank is the questions of a module and how many of them are asked. */
export interface Bank {
  draw: number;
  questions: readonly Question[];
}

/** A question of a draw, with its options in the order shown. */
export interface Asked {
  question: string;
  options: string[];
}

/** What somebody answered to one question; nothing is wrong. */
export interface Answer {
  choice?: string;
  order?: readonly string[];
  number?: number;
}

/** What came of a round of questions; `wrong` and `safety` are keys in the order asked. */
export interface Marks {
  asked: number;
  right: number;
  wrong: string[];
  safety: string[];
  passed: boolean;
}

/**
 * ask draws the questions of a seed: all safety questions, or as many as fit,
 * and others in the places that are left. A right order is never shown as it is.
 */
export function ask(bank: Bank, seed: number): Asked[] {
  const stream = streamOf(seed);
  const shuffled = stream.shuffle([...bank.questions]);
  const ranked = [...shuffled.filter((q) => q.safety), ...shuffled.filter((q) => !q.safety)];
  return stream.shuffle(ranked.slice(0, bank.draw)).map((q) => {
    const options = stream.shuffle([...(q.options ?? [])]);
    const given = q.kind === "order" && same(options, q.options ?? []);
    return { question: q.key, options: given ? [...options.slice(1), ...options.slice(0, 1)] : options };
  });
}

const same = (a: readonly string[], b: readonly string[]) =>
  a.length === b.length && a.every((x, i) => x === b[i]);

// 0.1 + 0.2 counts as 0.3.
const rounding = 1e-9;

/** holds says whether an answer is right. */
export function holds(q: Question, answer: Answer = {}): boolean {
  switch (q.kind) {
    case "order":
      return same(answer.order ?? [], q.options ?? []);
    case "sum":
      return (
        answer.number !== undefined &&
        Math.abs(answer.number - (q.answer ?? 0)) <= (q.tolerance ?? 0) + rounding
      );
    default:
      return !!answer.choice && answer.choice === q.right;
  }
}

const passPercent = 80;

/** mark marks the answers to the draw of a seed. It tells the person; what counts is marked again on the server. */
export function mark(bank: Bank, seed: number, answers: Readonly<Record<string, Answer>>): Marks {
  const asked = ask(bank, seed);
  const of = (key: string) => bank.questions.find((q) => q.key === key) as Question;
  const wrong = asked.map((a) => a.question).filter((key) => !holds(of(key), answers[key]));
  const safety = wrong.filter((key) => of(key).safety);
  const right = asked.length - wrong.length;
  const passed = asked.length > 0 && right * 100 >= asked.length * passPercent && safety.length === 0;
  return { asked: asked.length, right, wrong, safety, passed };
}
