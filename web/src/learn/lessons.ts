import type { components } from "../api/api.gen";
import type { Bank } from "./draw";

type Schemas = components["schemas"];
export type LessonsPage = Schemas["LessonsPage"];
export type LessonModule = Schemas["LessonModule"];
export type LessonCard = Schemas["LessonCard"];
export type LessonQuestion = Schemas["LessonQuestion"];
export type Drawings = Readonly<Record<string, string>>;

/** bankOf is what drawing and marking need of a module. */
export function bankOf(module: LessonModule): Bank {
  return {
    draw: module.draw,
    questions: module.questions.map((q) => ({ ...q, options: (q.options ?? []).map((o) => o.key) })),
  };
}

/** cardOf is the card that answers a question. */
export function cardOf(module: LessonModule, question: LessonQuestion): LessonCard | undefined {
  return module.cards.find((c) => c.key === question.card);
}
