import { formatsOf } from "../i18n/format";
import type { Values } from "./reason";
import type {
  agenda as enAgenda,
  causes as enCauses,
  reasons as enReasons,
  rules as enRules,
} from "./reasons.en";

const { date, days, number, percent, plural } = formatsOf("fr");
const step = (v: Values) => v.name("milestone", "milestone") || "Une étape";
const goAhead = (v: Values) => v.known("go-ahead", "go_ahead") ?? `Feu vert pour ${step(v)}`;
const who = (v: Values) => v.name("person", "person_id") || "Un soigneur responsable";
const late = (n: number) => (n < 0 ? `${days(-n)} d’avance` : `${days(n)} de retard`);
const holdUp = (v: Values) => {
  const what = v.name("milestone", "hold_up");
  return what ? ` Ce qui retient : ${what}.` : "";
};
const lateBy = (v: Values) => {
  const past = v.name("milestone", "milestone");
  return past
    ? `${past}, ${days(v.number("late_days"))} après son jour prévu.`
    : `première récolte retardée de ${days(v.number("late_days"))}.${holdUp(v)}`;
};
const about = (v: Values) => {
  const rule = new Map<string, string>(Object.entries(rules)).get(v.text("rule"));
  return rule ? ` (${rule.toLowerCase()})` : "";
};
const count = (n: number, one: string, other: string) => `${number(n)} ${plural(n, { one, other })}`;
const quiet = (v: Values) => ({
  since: date(v.text("last") || v.text("since")),
  days: days(v.number("quiet_days") || v.number("days")),
  allowed: days(v.number("allowed_days") || v.number("limit_days")),
});

export const reasons: typeof enReasons = {
  complete: () => "Toutes les étapes du cycle sont faites.",
  paused: (v) =>
    v.has("until")
      ? `En pause depuis le ${date(v.text("since"))}, jusqu’au ${date(v.text("until"))}.`
      : `En pause depuis le ${date(v.text("since"))}, sans date de fin.`,
  "milestone-past-latest": (v) =>
    `Pas encore fait : ${step(v)}, au plus tard le ${date(v.text("latest"))}, il y a ${days(v.number("days"))}.`,
  slip: (v) => `La première récolte aurait ${late(v.number("days"))}.`,
  "next-past-target": (v) =>
    `${step(v)} : le plus probable est le ${date(v.text("expected"))}, ${days(v.number("days"))} après la date visée.`,
  "on-course": (v) =>
    v.number("days") === 0
      ? "La première récolte est au jour prévu."
      : `La première récolte aurait ${late(v.number("days"))}.`,
  "slip-by-pause": (v) => `Les pauses coûtent ${days(v.number("days"))}.`,

  "milestone-behind": (v) =>
    `${step(v)} : ${days(v.number("late_days"))} après son jour (${date(v.text("target"))}).`,
  "cover-short": (v) =>
    `D’après les mesures, la couverture végétale aura une semaine de retard ou plus (sûr à ${percent(v.number("chance_percent"))}).`,
  "growth-short": (v) =>
    `D’après les pesées, la première récolte a ${days(v.number("late_days"))} de retard, sans doute le ${date(v.text("harvest"))}.`,
  "pace-short": (v) =>
    `D’après les dernières pesées, les animaux grandissent à environ ${percent(v.number("pace_percent"))} de leur rythme d’avant.`,
  "harvest-slip": (v) =>
    `La première récolte a pris ${days(v.number("late_days"))} de retard : ${date(v.text("harvest"))}.${holdUp(v)}`,
  "season-risk": (v) => `Risque de manquer la saison : ${percent(v.number("chance_percent"))}.`,
  "no-news": (v) => {
    const q = quiet(v);
    return `Sans nouvelles depuis le ${q.since}, soit ${q.days} ; à ce stade, ${q.allowed} au plus.`;
  },
  "go-ahead-short": (v) =>
    `${goAhead(v)} : il manque ${count(v.number("missing"), "point", "points")} ; au plus tôt le ${date(v.text("opens"))}.`,
  "go-ahead-skipped": (v) =>
    `${step(v)} : marqué sans son feu vert ; il manque encore ${count(v.number("missing"), "point", "points")}.`,
  "item-missing": (v) => `Pas encore vérifié : ${v.name("item", "item") || "un point à vérifier"}.`,
  "module-missing": (v) => `Formation absente : ${v.name("module", "module") || "un module"}.`,
  "module-lapsed": (v) =>
    `Formation périmée depuis le ${date(v.text("until"))} : ${v.name("module", "module") || "un module"}.`,
  "reading-missing": (v) => `Mesure absente ou trop basse : ${v.name("reading", "reading") || "une mesure"}.`,
  "nobody-in-charge": () => "Aucun soigneur n’est responsable des animaux.",
  "new-caretaker": (v) =>
    `${who(v)} travaille ici depuis le ${date(v.text("since"))} (${days(v.number("days"))}) et n’a pas encore sa formation.`,
  "nobody-trained": (v) =>
    `Des animaux y vivent et personne n’est formé : ${count(v.number("people"), "personne", "personnes")}, ${count(v.number("modules"), "module", "modules")} à valider.`,
  "visit-overdue": (v) =>
    `Dernière visite le ${date(v.text("last"))}, il y a ${days(v.number("days"))} ; il en faut une tous les ${days(v.number("every_days"))}.`,
  "snag-due": (v) =>
    `${count(v.number("snags"), "réserve ouverte", "réserves ouvertes")} ; la période de garantie finit le ${date(v.text("until"))}, dans ${days(v.number("left_days"))}.`,
  "ticket-stale": (v) =>
    `Le dossier ${v.text("number") || "ici"} a passé son délai sans que personne n’y touche.`,
  sign: (v) => `Vu sur la ferme : ${v.name("sign", "sign") || "un signe de trouble"}.`,

  behind: (v) => `En retard : ${lateBy(v)}`,
  slipping: (v) => `Prend du retard : ${lateBy(v)}`,
  late: (v) => `Dans les temps, mais ${lateBy(v)}`,
  "go-ahead-needs-person": (v) =>
    `${goAhead(v)} : il faut quelqu’un sur place pour ${count(v.number("items"), "point", "points")}, au plus tôt le ${date(v.text("opens"))}.`,
  "visit-due": (v) =>
    `Dernière visite le ${date(v.text("last"))}, il y a ${days(v.number("days"))} ; il en faut une tous les ${days(v.number("every_days"))}.`,
  "twice-the-interval": (v) =>
    `Dernière visite le ${date(v.text("last"))}, il y a ${days(v.number("days"))} : deux fois l’intervalle de ${days(v.number("every_days"))}.`,
  "snags-ending": (v) =>
    `${count(v.number("snags"), "réserve", "réserves")} à lever avant la fin de la période de garantie, le ${date(v.text("until"))}, dans ${days(v.number("left_days"))}.`,
  "caretaker-untrained": (v) => `${who(v)} : il manque ${count(v.number("modules"), "module", "modules")}.`,
  "caretaker-new": (v) =>
    `${who(v)} : là depuis ${days(v.number("days"))}, sans avoir rencontré quelqu’un du cabinet.`,
  "visit-promised": (v) =>
    `Une visite est promise pour le ${date(v.text("due"))}${v.has("text") ? ` : ${v.text("text")}` : ""}.`,
  "promise-broken": (v) =>
    `Une visite promise pour le ${date(v.text("due"))} a ${days(v.number("late_days"))} de retard${v.has("text") ? ` : ${v.text("text")}` : ""}.`,
  "owner-asked": (v) =>
    `Le client a demandé une visite le ${date(v.text("on"))}${v.has("text") ? ` : ${v.text("text")}` : ""}.`,
  "ticket-open": (v) => `Le dossier ${v.text("number") || "ici"} est ouvert${about(v)}.`,
  "person-in-danger": (v) => `Une personne est en danger : dossier ${v.text("number") || "ici"}${about(v)}.`,
  "animals-at-risk": (v) => `Des animaux sont en danger : dossier ${v.text("number") || "ici"}${about(v)}.`,
};

export const rules: typeof enRules = {
  "milestone-behind": "Étape en retard",
  "cover-short": "Couverture végétale en retard",
  "growth-short": "Croissance lente",
  "harvest-slip": "Récolte qui prend du retard",
  "season-risk": "Saison en jeu",
  "no-news": "Sans nouvelles",
  "go-ahead-short": "Feu vert incomplet",
  "go-ahead-skipped": "Feu vert sauté",
  "training-gap": "Formation absente",
  "new-caretaker": "Nouveau soigneur",
  "nobody-trained": "Personne n’est formé",
  "visit-overdue": "Visite en retard",
  "snag-due": "Réserve à lever",
  "ticket-stale": "Dossier non touché",
};

export const agenda: typeof enAgenda = {
  "see-to-danger": "D’abord le danger : les personnes, puis les animaux",
  "look-at-hold-up": "Voir ce qui retient le plan, marquer ce qui est fait",
  "verify-go-ahead": "Vérifier les points que quelqu’un doit voir",
  "walk-round": "Faire le tour : comptages, pesées, couverture végétale",
  "mend-snags": "Lever les réserves, ou fixer un jour",
  "train-caretaker": "Enseigner et valider les modules qui manquent",
  "meet-caretaker": "Rencontrer le nouveau soigneur",
  "find-who-is-in-charge": "Convenir d’un soigneur responsable",
  "ask-about-silence": "Demander pourquoi ce silence : téléphone, crédit, qui écrit le cahier",
  "keep-promise": "Tenir ce qui a été promis pendant l’échange",
  "answer-owner": "Répondre à ce que le client a demandé",
  "work-on-ticket": "Travailler sur le dossier",
};

export const causes: typeof enCauses = {
  schedule: "plan",
  "go-ahead": "feu vert",
  interval: "jours depuis la dernière visite",
  snags: "réserves",
  people: "personnes",
  silence: "silence",
  promise: "engagements",
  request: "demandes",
  tickets: "dossiers",
};
