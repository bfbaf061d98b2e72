import { formatsOf } from "../../../../i18n/format";
import type { card as english } from "./en";

const { plural } = formatsOf("fr");

export const card: typeof english = {
  title: (sign) => `Fiche : ${sign}`,
  yes: "Oui",
  no: "Non",
  unsure: "On ne sait pas",
  back: "Une question en arrière",
  answer: (measure) => `Combien (${measure})`,
  next: "Prendre cette réponse",
  spoken: "À dire en",
  languages: { en: "anglais", fr: "français" },
  people: "Les personnes d’abord",
  answered: (n) => plural(n, { one: `${n} réponse`, other: `${n} réponses` }),
  causes: "Causes",
  likelihoods: { likely: "probable", possible: "possible", "less-likely": "moins probable" },
  now: "Maintenant, dans l’heure",
  advice: "Ensuite",
  cautions: "Précautions",
  estimate: "notre estimation, pas encore vérifiée",
  go: {
    now: "Quelqu’un y va maintenant, ou les secours.",
    today: "Quelqu’un y va aujourd’hui.",
    "this-week": "Quelqu’un y va cette semaine.",
    "next-visit": "À regarder à la prochaine visite.",
    no: "Personne n’a besoin d’y aller.",
  },
  tell: "Le service vétérinaire doit être prévenu dans les 24 heures. Le délai court dès l’envoi de cette note.",
  jumped: "Une personne est en danger. Cette fiche passe d’abord.",
  why: "Pourquoi le voyez-vous autrement que la fiche ?",
  whyNeeded: "Dites en quelques mots pourquoi vous le voyez autrement.",
  text: "Le conseil en SMS",
  pictureText: "Demander une photo par SMS",
  textSize: (parts, left) =>
    `${plural(parts, { one: `${parts} partie`, other: `${parts} parties` })}, encore ${left} signes`,
  textOdd: (letters) => `Ces lettres doublent le prix et plus : ${letters}`,
  textWithNote: "L’envoyer par SMS avec cette note, sur son dossier",
  textOpen: "Ouvrir dans le programme de SMS",
  textGoes: "Il est gardé avec cet échange.",
};
