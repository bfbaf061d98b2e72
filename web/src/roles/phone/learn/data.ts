import { withSession } from "../../../api/session";
import { send } from "../../../api/transport";
import { language } from "../../../i18n/language";
import type { Answer } from "../../../learn/draw";
import type { Drawings, LessonModule, LessonsPage } from "../../../learn/lessons";
import { nextSeed } from "../../../learn/stream";
import { recall, remember } from "../../../offline/kept";
import { isoOf, parseDay } from "../../../time/day";
import { type Keeper, keeper, type TodayModule } from "../data";
import type { Learning, View } from "../overlay";

interface Content {
  lessons: Keeper<LessonsPage>;
  drawings: Keeper<{ drawings: Drawings }>;
}

const kept = new Map<string, Content>();

/** contentOf is what the phone keeps of an enterprise's modules. */
export function contentOf(enterprise: string): Content {
  const path = `/api/lessons/${encodeURIComponent(enterprise)}`;
  const found = kept.get(enterprise) ?? { lessons: keeper(path), drawings: keeper(`${path}/drawings`) };
  kept.set(enterprise, found);
  return found;
}

/** enterprisesOf are those of which the farm's caretaker can learn something. */
export function enterprisesOf(farm: View): string[] {
  return [
    ...new Set([...farm.modules, ...farm.more_modules].filter((m) => m.lessons).map((m) => m.enterprise)),
  ];
}

/** bringAhead brings what is learned without a network: words first, then drawings. */
export async function bringAhead(enterprises: readonly string[]): Promise<void> {
  for (const { lessons, drawings } of enterprises.map(contentOf)) {
    await lessons.bring();
    await drawings.bring();
  }
}

/** lessonOf is a module's content, where the phone has it. */
export function lessonOf(enterprise: string, module: string): LessonModule | undefined {
  return contentOf(enterprise)
    .lessons.now()
    .value?.modules.find((m) => m.key === module);
}

/** drawingsOf are the drawings that the phone has. */
export function drawingsOf(enterprise: string): Drawings {
  return contentOf(enterprise).drawings.now().value?.drawings ?? {};
}

/** moduleOf is where the caretaker stands with a module. */
export function moduleOf(farm: View, enterprise = "", module = ""): Learning | undefined {
  return [...farm.modules, ...farm.more_modules].find((m) => m.enterprise === enterprise && m.key === module);
}

/** seedOf is the seed of the next draw: rounds that have not reached the server are counted on. */
export function seedOf(module: Learning): number {
  let seed = module.seed ?? 0;
  for (let i = 0; i < (module.rounds ?? 0); i++) seed = nextSeed(seed);
  return seed;
}

/** retakeOn is the first day on which to answer again, undefined for at once. */
export function retakeOn(module: Pick<TodayModule, "failed_on" | "waits">, on: string): string | undefined {
  if (!module.failed_on || module.waits) return undefined;
  const day = isoOf((parseDay(module.failed_on) ?? 0) + 1);
  return day > on ? day : undefined;
}

/** A Round is a round of questions under way: what was answered stays when the page is closed. */
export interface Round {
  version: string;
  seed: number;
  answers: Record<string, Answer>;
}

const roundKey = (enterprise: string, module: string) => `/round/${enterprise}/${module}`;

/** openRound is the round that was begun, if the same questions are still asked. */
export async function openRound(enterprise: string, lesson: LessonModule, seed: number): Promise<Round> {
  const found = (await recall<Round>(roundKey(enterprise, lesson.key)).catch(() => undefined))?.body;
  const same = found && found.seed === seed && found.version === lesson.version;
  return same ? found : { version: lesson.version, seed, answers: {} };
}

/** keepRound keeps what was answered so far. */
export function keepRound(enterprise: string, module: string, round: Round): Promise<void> {
  return remember(roundKey(enterprise, module), round);
}

type Voices = Record<string, string>;
const voicesPath = (enterprise: string, module: string) =>
  `/api/lessons/${encodeURIComponent(enterprise)}/voices/${encodeURIComponent(module)}`;
const voicesKey = (enterprise: string, module: string) =>
  `${voicesPath(enterprise, module)}?${language.peek()}`;

/** keptVoices are a module's recordings that are on the phone, in base64 by card. */
export async function keptVoices(enterprise: string, module: string): Promise<Voices | undefined> {
  return (await recall<Voices>(voicesKey(enterprise, module)).catch(() => undefined))?.body;
}

/** bringVoices fetches a module's recordings and keeps them. */
export async function bringVoices(enterprise: string, module: string): Promise<Voices> {
  const { body } = await withSession((headers) =>
    send<{ voices: Voices }>("GET", voicesPath(enterprise, module), {
      query: { lang: language.peek() },
      headers,
    }),
  );
  await remember(voicesKey(enterprise, module), body.voices);
  return body.voices;
}
