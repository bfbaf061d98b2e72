import { learnWords } from "../../../learn/words";
import { parseDay } from "../../../time/day";
import type { Learning } from "../overlay";

// So many days before its end, the server asks for a module again.
const soon = 30;

/** standingOf says in words where a caretaker stands with a module, and whether nothing is left to do alone. */
export function standingOf(m: Learning, on: string): { done: boolean; text: string } {
  const words = learnWords().state;
  if (m.answered_on) return { done: true, text: words.answered(m.answered_on) };
  if (m.read_on) return { done: true, text: words.read };
  return { done: false, ...open(m, on) };
}

function open(m: Learning, on: string): { text: string; done?: boolean } {
  const words = learnWords().state;
  if (m.redo_on) return { text: words.redo(m.redo_on) };
  if (m.failed_on) return { text: words.failed(m.failed_on) };
  if (m.checked_on) return { text: words.checked(m.checked_on) };
  if (m.until) {
    const left = (parseDay(m.until) ?? 0) - (parseDay(on) ?? 0);
    return left < soon ? { text: words.soon(m.until) } : { text: words.held(m.until), done: true };
  }
  return { text: m.lapsed_on ? words.lapsed(m.lapsed_on) : words.open };
}
