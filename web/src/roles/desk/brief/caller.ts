import type { FarmPage } from "../../../api/types";
import { type Language, language, languages } from "../../../i18n/language";

/** A Caller is who is on the line and what they are on this farm. */
export type Caller =
  | { kind: "caretaker"; name: string; phone: string; inCharge: boolean; since: string; language: string }
  | { kind: "client"; name: string; phone: string }
  | { kind: "unknown"; phone: string };

/** callerOf finds the caller among the people of the farm: a person's id, "client", or nobody we know. */
export function callerOf(farm: FarmPage, who: string, phone: string): Caller {
  const worker = farm.people.find((p) => p.person_id === who);
  if (worker) {
    const { name, language, in_charge: inCharge, since = "" } = worker;
    return { kind: "caretaker", name, phone: worker.phone, inCharge, since, language };
  }
  // The client's own person, who signs in for them, is the client.
  if (who && (who === "client" || who === farm.owner.owner_id)) {
    return { kind: "client", name: farm.owner.name, phone: farm.owner.phone };
  }
  return { kind: "unknown", phone };
}

/** callerLanguage is what to speak with the caller: their own language, else that of whoever is in charge, else the desk's. */
export function callerLanguage(farm: FarmPage | undefined, who: string): Language {
  const people = farm?.people ?? [];
  const person = people.find((p) => p.person_id === who) ?? people.find((p) => p.in_charge);
  return languages.find((l) => l === person?.language) ?? language.peek();
}

/** whoOf is the caller as the call note names them. */
export function whoOf(farm: FarmPage, who: string): string {
  if (farm.people.some((p) => p.person_id === who)) return who;
  return who && (who === "client" || who === farm.owner.owner_id) ? "client" : "";
}
