import { formatsOf } from "../../../i18n/format";
import type { brief as english } from "./en";

const { date, days, number, plural } = formatsOf("fr");

export const brief: typeof english = {
  lines: {
    caller: "Qui",
    schedule: "Plan",
    stock: "Animaux",
    tickets: "Dossiers",
    talk: "Dit",
    caretaker: "Soigneur",
  },
  branch: (name) => `agence de ${name}`,
  notWatched: "pas encore suivie",
  contract: { active: "", paused: "contrat en pause", closed: "contrat clos" },
  unknownCaller: "quelqu’un que nous ne connaissons pas ; dites dans la note qui c’est",
  caretakerSince: (since) => (since ? `soigneur depuis le ${date(since)}` : "soigneur"),
  inChargeSince: (since) =>
    since ? `soigneur, responsable depuis le ${date(since)}` : "soigneur, responsable des animaux",
  isClient: "le client",
  speaks: { en: "parle anglais", fr: "parle français" },

  notSwept: "en train d’être calculé, revenez dans une minute",
  noCycle: "aucun cycle en cours",
  holdUp: (name) => `ce qui retient : ${name}`,
  harvest: (p50, p90) =>
    `première récolte : le plus probable ${date(p50)}, 9 fois sur 10 avant le ${date(p90)}`,
  andUnits: (n) => plural(n, { one: `et ${n} unité de plus`, other: `et ${n} unités de plus` }),
  noUnits: "aucune unité d’élevage au registre",

  lives: (n, species, on) => `${number(n)} ${species} depuis le ${date(on)}`,
  nothingYet: "rien n’y vit encore",
  stocking: (on) => `mise en charge : le plus probable ${date(on)}`,

  noTickets: "aucun ouvert",
  andTickets: (n) => plural(n, { one: `et ${n} de plus`, other: `et ${n} de plus` }),

  noAdvice: "aucun conseil au dossier",
  advice: (on, who) => `${date(on)}${who ? `, ${who}` : ""}`,
  promise: (on) => `promis pour le ${date(on)}`,
  late: (n) => `${days(n)} de retard`,
  noPromise: "aucun engagement ouvert",

  noCaretaker: "aucun soigneur au registre",
  nobodyInCharge: "personne n’est responsable des animaux",
  passed: (n, all) =>
    plural(n, { one: `${n} module validé sur ${all}`, other: `${n} modules validés sur ${all}` }),
  lacks: (names) => `il manque ${names}`,
  lapsed: (name, on) => `${name} périmé depuis le ${date(on)}`,

  more: "Plus sur cette ferme",
  parts: {
    milestones: "Étapes",
    training: "Formation",
    build: "Construction",
    calls: "Échanges",
    reported: "Signalé",
  },
  closePart: "Fermer cette partie",
  farmPage: "Page de la ferme",
  noCalls: "Aucun échange au dossier.",
};
