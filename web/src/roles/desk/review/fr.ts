import { formatsOf } from "../../../i18n/format";
import type { review as english } from "./en";

const { plural, date } = formatsOf("fr");

export const review: typeof english = {
  title: "Fiches de tri",
  lead: "Ce qui repose sur notre propre estimation est lu et signé par un vétérinaire. Une nouvelle version demande une nouvelle signature.",
  export: "Estimations non vérifiées en tableau",
  list: "Fiches, non signées d’abord",
  version: (n) => `version ${n}`,
  estimates: (n) =>
    plural(n, { one: `${n} estimation pas encore vérifiée`, other: `${n} estimations pas encore vérifiées` }),
  none: "repose sur des sources publiées",
  signed: (who, what, on) => `signée par ${who} (${what}) le ${date(on)}`,
  differs: (who, on, note) => `${who} la changerait (${date(on)}) : ${note}`,
  read: "Lire les estimations",
  sign: "Noter une signature",
  reviewer: "Vétérinaire",
  qualification: "Titre et numéro d’ordre",
  on: "Signée le",
  agrees: "Est d’accord avec chaque phrase",
  note: "Que changerait cette personne ?",
  send: "Le noter",
  done: "Noté.",
  kinds: { cause: "cause", ending: "conseil" },
};
