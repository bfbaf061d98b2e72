import { formatsOf } from "../i18n/format";
import type { FarmMessages } from "./en";
import { agenda, causes, reasons, rules } from "./reasons.fr";

const { date, days, plural } = formatsOf("fr");

const fr: FarmMessages = {
  farm: "Ferme",
  noFarm: "Aucune ferme connue sous le nom",
  standing: {
    "on-course": "dans les temps",
    slipping: "prend du retard",
    behind: "en retard",
    "no-news": "sans nouvelles",
    paused: "en pause",
    complete: "terminé",
    "to-confirm": "à confirmer",
  },
  urgency: {
    "person-in-danger": "personne en danger",
    "animals-at-risk": "animaux en danger",
    "losing-time": "temps perdu",
    routine: "courant",
    "no-hurry": "sans urgence",
  },
  state: {
    reported: "signalé",
    assessed: "évalué",
    "in-hand": "en cours",
    waiting: "en attente",
    settled: "réglé",
  },
  waitingOn: {
    farm: "en attente de la ferme",
    supplier: "en attente du fournisseur",
    electrician: "en attente de l’électricien",
    vet: "en attente du vétérinaire",
    us: "en attente de nous",
  },
  grade: {
    photo: "photo",
    "staff-saw": "vu par le cabinet",
    word: "parole du soigneur",
    register: "d’après le registre",
  },
  milestoneState: {
    done: "faite",
    implied: "faite, date inconnue",
    open: "prochaine",
    ahead: "à venir",
  },
  firm: "Interne au cabinet",
  slip: (by) => (by === 0 ? "au jour prévu" : by > 0 ? `${days(by)} de retard` : `${days(-by)} d’avance`),
  harvestSlip: (by) => `Première récolte : ${fr.slip(by)}`,
  strip: {
    started: (on) => `Commencé le ${date(on)}.`,
    progress: (done, all) =>
      plural(done, { one: `${done} étape faite sur ${all}.`, other: `${done} étapes faites sur ${all}.` }),
    lastDone: (name, on) => `La dernière : ${name}, le ${date(on)}.`,
    next: (name) => `Prochaine : ${name}.`,
    planned: (from, to) => `Prévu entre le ${date(from)} et le ${date(to)}.`,
    expected: (on, p90) => `Le plus probable : ${date(on)}, 9 fois sur 10 avant le ${date(p90)}.`,
    harvest: "Première récolte.",
    late: (by) => `${fr.harvestSlip(by)}.`,
    today: "aujourd’hui",
    nothing: "Pas encore de dates.",
    legend: {
      band: "prévu",
      done: "fait",
      forecast: "le plus probable, 9 fois sur 10 avant la fin du trait",
      today: "aujourd’hui",
    },
  },
  map: { nearer: "Plus près", farther: "Plus loin" },
  newTickets: (n) => plural(n, { one: `${n} nouveau dossier`, other: `${n} nouveaux dossiers` }),
  andLater: (n) =>
    plural(n, {
      one: `${n} étape suivante a aussi passé sa date.`,
      other: `${n} étapes suivantes ont aussi passé leur date.`,
    }),
  reasons,
  rules,
  agenda,
  causes,
  otherReason: (code, values) => (values ? `Autre raison : ${code} (${values})` : `Autre raison : ${code}`),
};

export default fr;
