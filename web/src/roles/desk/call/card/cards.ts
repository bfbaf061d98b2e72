import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { components } from "../../../../api/api.gen";
import { api } from "../../../../api/client";
import type { Language } from "../../../../i18n/language";

type Schemas = components["schemas"];

/** The triage card of a sign, and its parts. */
export type Card = Schemas["PackTriageCard"];
export type CardQuestion = Schemas["PackTriageQuestion"];
export type CardAnswer = Schemas["PackTriageAnswer"];
export type CardEnding = Schemas["PackTriageEnding"];

/** curly gives a text the apostrophes of print; packs are typed with those of a keyboard. */
export const curly = (text: string): string => text.replace(/'/g, "’");

/** spoken is a text of a pack in the language that is spoken with the caller. */
export const spoken = (text: Schemas["PackText"] | undefined, language: Language): string =>
  curly(text?.[language] ?? "");

const kept = signal<Readonly<Record<string, readonly Card[]>>>({});
const underWay = new Set<string>();

/** keepCards puts the cards of an enterprise where screens look for them. */
export function keepCards(enterprise: string, cards: readonly Card[]): void {
  kept.value = { ...kept.peek(), [enterprise]: cards };
}

/** cardOf is the card of a sign; undefined where there is none, or until it has been brought. */
export function cardOf(enterprise: string, sign: string): Card | undefined {
  return kept.value[enterprise]?.find((card) => card.sign === sign);
}

/**
 * useCards brings the cards of enterprises once, before anybody asks for one:
 * a caller does not wait. Without them the first words of a sign are there,
 * so a failure is no reason to show nothing, and the next farm tries again.
 */
export function useCards(enterprises: readonly string[]): void {
  const wanted = [...new Set(enterprises)].sort().join(" ");
  useEffect(() => {
    for (const enterprise of wanted.split(" ").filter(Boolean)) {
      if (kept.peek()[enterprise] || underWay.has(enterprise)) continue;
      underWay.add(enterprise);
      api
        .get("/api/triage/{enterprise}", { path: { enterprise } })
        .then(({ body }) => keepCards(enterprise, body.cards))
        .catch(() => undefined)
        .finally(() => underWay.delete(enterprise));
    }
  }, [wanted]);
}
