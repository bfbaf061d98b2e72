import { formatsOf } from "../i18n/format";
import type { TrainingMessages } from "./en";

const { date, number, percent, plural } = formatsOf("fr");

const fr: TrainingMessages = {
  title: "Formation",
  intro: "Où en sont les fermes, qui apprend quoi, et quelles questions échouent.",
  branch: "Agence",
  allBranches: "toutes les agences",
  export: "Prendre le registre en tableur (CSV)",
  file: (on) => `formation-${on}.csv`,
  coverage: "Couverture",
  coverageHint: "On compte les soigneurs responsables, pour les modules qu’un feu vert demande.",
  byBranch: "Par agence et module",
  byFarm: "Par ferme",
  enterprise: "Filière",
  module: "Module",
  held: "Validé",
  lapsed: "Expiré",
  missing: "Jamais validé",
  share: "Part",
  farm: "Ferme",
  inCharge: "Responsables",
  complete: "Ont tout validé",
  lacks: "Il manque",
  nobody: "aucun responsable",
  nothingLacks: "rien",
  lack: (module, n, of) => `${module} (${number(n)} sur ${number(of)})`,
  noFarms: "Personne ne travaille encore dans une ferme ici : il n’y a rien à compter.",
  more: (n) =>
    plural(n, { one: `En montrer ${number(n)} de plus`, other: `En montrer ${number(n)} de plus` }),
  people: "Qui apprend quoi",
  person: "Personne",
  learning: "En cours",
  lacking: "Pas validés",
  holds: "Validés",
  of: (n, all) => `${number(n)} sur ${number(all)}`,
  charge: "responsable",
  noPeople: "Personne ne travaille encore dans une ferme ici.",
  under: {
    answered: (name, on) => `${name} : questions réussies le ${date(on)}, contrôle pratique à venir`,
    checked: (name, on) => `${name} : contrôle pratique réussi le ${date(on)}, questions à venir`,
    redo: (name, on) => `${name} : contrôle pratique du ${date(on)} pas réussi`,
    failed: (name, on) => `${name} : questions pas réussies le ${date(on)}`,
    read: (name, on) => `${name} : suivi le ${date(on)}, à montrer`,
    lapsed: (name, on) => `${name} : expiré le ${date(on)}`,
  },
  questions: "Questions qui échouent",
  questionsHint:
    "L’intervalle dit à quel point la part est sûre (95 %, Wilson). Quand même son bas dépasse un tiers, c’est la question ou sa carte qui est en cause, pas les gens.",
  rewrite: (n) =>
    plural(n, {
      one: `${number(n)} question est à réécrire. Elle est en tête.`,
      other: `${number(n)} questions sont à réécrire. Elles sont en tête.`,
    }),
  noRewrite: "Aucune question n’est sûrement en cause.",
  noQuestions: "Aucune question n’a encore reçu de réponse.",
  question: "Question",
  wrong: "Fausses",
  wrongOf: (wrong, asked) => `${number(wrong)} sur ${number(asked)}`,
  interval: "Intervalle",
  between: (low, high) => `${percent(low * 100)} à ${percent(high * 100)}`,
  percent: (share) => percent(share * 100),
  todo: "À faire",
  toRewrite: "réécrire",
  keep: "garder",
  safety: "sécurité",
};

export default fr;
