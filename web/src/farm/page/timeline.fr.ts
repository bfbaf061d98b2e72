import { formatsOf } from "../../i18n/format";
import type { timeline as english } from "./timeline.en";

const { date, measure, number, percent, plural } = formatsOf("fr");
const counted = (n: number, one: string, other: string) =>
  plural(n, { one: `${n} ${one}`, other: `${number(n)} ${other}` });

export const timeline: typeof english = {
  more: "Plus anciens",
  none: "Rien n’a encore été signalé.",
  recorded: (when) => `noté le ${when}`,
  clockOff: "l’heure du téléphone était fausse",
  replaced: "corrige une note plus ancienne",
  news: "nouvelles de la ferme",
  kinds: {
    milestone: (name) => `Étape faite : ${name}`,
    "milestone-anyway": (name) => `Étape faite sans son feu vert : ${name}`,
    "not-done": (name) => `Étape reprise : ${name}`,
    item: (text, answer) => `${text} : ${answer}`,
    cover: (value) => `Couverture végétale : ${percent(value)}`,
    weights: (n, mean) => `${counted(n, "animal pesé", "animaux pesés")}, moyenne ${mean}`,
    "all-well": "Tout va bien : aucune mort",
    day: "Cahier d’élevage",
    deaths: (n) => counted(n, "mort", "morts"),
    missing: (n) => counted(n, "manquant", "manquants"),
    eggs: (n) => counted(n, "œuf", "œufs"),
    hatchlings: (n) => counted(n, "naissain", "naissains"),
    feed: (kg) => `aliment ${measure(kg, "kg", 2)}`,
    water: (l) => `eau ${measure(l, "l", 1)}`,
    "could-not": (why) => `Le travail du jour n’a pas pu être fait : ${why}`,
    trouble: (what) => `Problème : ${what}`,
    module: (module, who) => `${who} a validé : ${module}`,
    "module-read": (module, who) => `${who} a parcouru : ${module}`,
    "call-me": "A demandé à être rappelé",
    stocking: (n, species) => `Mise en charge : ${number(n)} ${species}`,
    note: "Note",
    snag: (text) => `Réserve : ${text}`,
    "snag-mended": (text) => `Réserve levée : ${text}`,
    pause: (until) => `Travail en pause jusqu’au ${date(until)}`,
    "pause-agreed": "Une deuxième personne est d’accord avec la pause",
    "pause-ended": "La pause est finie",
    visit: "Visite",
    intake: "Entrée depuis le registre",
    other: (kind) => `Note : ${kind}`,
  },
  couldNot: {
    "no-feed": "pas d’aliment",
    rain: "pluie",
    ill: "malade",
    "no-water": "pas d’eau",
    other: "une autre raison",
  },
  someone: "Quelqu’un de la ferme",
  aModule: "un module",
  aSnag: "une réserve",
  aSign: "un signe de trouble",
};
