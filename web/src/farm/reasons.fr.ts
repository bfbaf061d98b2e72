import { formatsOf } from "../i18n/format";
import type { Values } from "./reason";
import type { reasons as english } from "./reasons.en";

const { date, days, percent } = formatsOf("fr");
const step = (v: Values) => v.text("milestone") || "Une étape";

export const reasons: typeof english = {
  "milestone-behind": (v) => `${step(v)} : ${days(v.number("days"))} de retard sur sa date.`,
  "milestone-late": (v) => `${step(v)} : ${days(v.number("days"))} après sa date au plus tard.`,
  "next-slipping": (v) => `${step(v)} : sans doute ${days(v.number("days"))} après le jour visé.`,
  "harvest-slip": (v) => `La première récolte a pris ${days(v.number("days"))} de retard.`,
  "cover-short": (v) =>
    `D’après les mesures, la couverture végétale sera en retard (sûr à ${percent(100 * v.number("probability"))}).`,
  "growth-short": (v) => `D’après les pesées, la première récolte a ${days(v.number("days"))} de retard.`,
  "season-risk": (v) => `Risque de manquer la saison : ${percent(100 * v.number("probability"))}.`,
  "no-news": (v) =>
    v.has("since")
      ? `Sans nouvelles depuis le ${date(v.text("since"))}, soit ${days(v.number("days"))}.`
      : `Sans nouvelles depuis ${days(v.number("days"))}.`,
  paused: (v) => (v.has("until") ? `En pause jusqu’au ${date(v.text("until"))}.` : "En pause."),
  "go-ahead-short": (v) => `Le feu vert n’est pas complet pour : ${step(v)}.`,
  "go-ahead-skipped": (v) => `${step(v)} : marquée sans son feu vert.`,
  "training-gap": (v) => `Formation absente ou périmée : ${v.text("module")}.`,
  "visit-overdue": (v) => `Pas de visite depuis ${days(v.number("days"))}.`,
  "snag-due": (v) => `Une réserve est ouverte et la période de garantie finit le ${date(v.text("until"))}.`,
  "ticket-stale": (v) => `Le dossier ${v.text("number")} a passé son délai sans que personne n’y touche.`,
};
