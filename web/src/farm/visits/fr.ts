import { formatsOf } from "../../i18n/format";
import type { VisitMessages } from "./en";

const { date, plural } = formatsOf("fr");

const fr: VisitMessages = {
  states: { planned: "prévue", done: "faite", missed: "manquée" },
  goes: (who, on) => `${who} y va le ${date(on)}`,
  went: (who, on) => `${who} y est allé(e) le ${date(on)}`,
  missed: (who, on) => `${who} devait y aller le ${date(on)}`,
  agenda: "À faire sur place",
  why: "Pourquoi",
  findings: "Ce qui a été constaté",
  whyMissed: "Pourquoi personne n’y est allé",
  dealt: (n) => plural(n, { one: `${n} raison traitée`, other: `${n} raisons traitées` }),
  noReason: "Aucune raison n’était notée quand elle a été prévue.",
  plan: "Prévoir une visite",
  planOf: (farm) => `Prévoir une visite : ${farm}`,
  change: "Changer",
  changeOf: (farm, on) => `Changer la visite : ${farm}, ${date(on)}`,
  finish: "Faite",
  finishOf: (farm, on) => `Marquer comme faite : ${farm}, ${date(on)}`,
  miss: "Manquée",
  missOf: (farm, on) => `Marquer comme manquée : ${farm}, ${date(on)}`,
  form: {
    officer: "Qui y va ?",
    nobody: "Choisir une personne",
    day: "Quel jour ?",
    stops: (who, on) => `${who}, le ${date(on)} :`,
    noStops: (who, on) => `${who} n’a pas d’autre visite le ${date(on)}.`,
    planned: "Prévue.",
    changed: "Changée.",
    changeTitle: (farm) => `Changer la visite à ${farm}`,
    finishTitle: (farm) => `La visite à ${farm}`,
    doneOn: "Quel jour était-ce ?",
    found: "Qu’a-t-on constaté ?",
    foundHint: "Comptages, pesées, ce qui est construit, ce qui est convenu.",
    dealt: "Qu’est-ce qui a été traité ?",
    dealtHint: "Ce qui est coché perd ses points jusqu’à ce que cela empire.",
    save: "Visite faite",
    done: "La visite est notée.",
    missTitle: (farm) => `Personne n’est allé à ${farm}`,
    why: "Pourquoi ?",
    missSave: "Visite manquée",
    missDone: "Noté. La ferme reste sur la liste.",
  },
  problems: {
    "visit-planned":
      "Quelqu’un va déjà dans cette ferme ce jour-là. Changez cette visite, ou choisissez un autre jour.",
    "visit-over": "Cette visite est déjà finie. Relisez la page.",
    "visit-refused": "Ceci ne peut pas être gardé tel quel. Voyez les champs marqués.",
    "visit-officer": "Cette personne ne travaille pas pour l’agence de la ferme. Choisissez-en une autre.",
    "farm-closed": "Cette ferme est close au registre. Rouvrez-la avant de prévoir une visite.",
    range: "Choisissez un jour possible.",
    required: "À remplir.",
    unknown: "Choisissez dans la liste.",
    "other-branch": "Choisissez quelqu’un de l’agence de la ferme.",
    invalid: "À remplir.",
  },
};

export default fr;
