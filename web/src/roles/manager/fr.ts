import { formatsOf } from "../../i18n/format";
import type { ManagerMessages } from "./en";

const { date, days, number, percent, plural } = formatsOf("fr");
const count = (n: number, one: string, other: string) => plural(n, { one, other });
const farms = (n: number) => count(n, `${number(n)} ferme`, `${number(n)} fermes`);

// How long a wait was, as people say it.
const lasting = (minutes: number) => {
  if (minutes < 90) return `${number(minutes)} min`;
  if (minutes < 48 * 60) return `${number(Math.round(minutes / 60))} heures`;
  return days(Math.round(minutes / 1440));
};

const fr: ManagerMessages = {
  nav: {
    needs: "Visites à prévoir",
    visits: "Visites prévues",
    farms: "Fermes par situation",
    confirm: "Fermes à confirmer",
    load: "Charge",
    training: "Formation",
    cards: "Fiches de tri",
  },
  toRegister: "Lire un tableur de fermes",
  filter: {
    label: "Choisir des fermes",
    branch: "Agence",
    allBranches: "toutes les agences",
    standing: "Situation",
    allStandings: "toutes les situations",
    enterprise: "Filière",
    allEnterprises: "toutes les filières",
    watched: "Suivie",
    watchedAll: "suivie ou non",
    watchedYes: "suivie",
    watchedNo: "pas suivie",
    search: "Chercher",
    searchHint: "Nom, client, ville, repère ou téléphone",
    none: "Aucune ferme ne correspond à ces filtres.",
    clear: "Montrer toutes les fermes",
  },
  needs: {
    title: "Quelles fermes ont besoin d’une visite",
    summary: (looked, need, must) =>
      `${farms(looked)} au total ; ${count(need, `${number(need)} a besoin d’une visite`, `${number(need)} ont besoin d’une visite`)}, ${
        must === 0
          ? "aucune n’est obligatoire"
          : count(must, `${number(must)} est obligatoire`, `${number(must)} sont obligatoires`)
      }.`,
    noFarms:
      "Aucune ferme n’est suivie pour l’instant. Lisez votre tableur, puis commencez à suivre les fermes.",
    none: "Aucune ferme n’a besoin d’une visite aujourd’hui.",
    mustGo: "Il faut y aller",
    mustGoHint:
      "Quels que soient les points : un danger, ou deux fois l’intervalle depuis la dernière visite.",
    byPoints: "Par points",
    points: (n) => count(n, `${number(n, 1)} point`, `${number(n, 1)} points`),
    mustGoWord: "il faut y aller",
    lastVisit: (on, ago) => `Dernière visite, sinon réception ou entrée au registre : ${date(on)}, ${ago}`,
    every: (n) => `il en faut une tous les ${days(n)}`,
    noVisit: "Aucune visite n’est encore notée",
    more: (shown, total) => `Montrer plus de ${number(shown)} sur ${number(total)}`,
    planned: (who, on) => `${who} y va le ${date(on)}`,
    someone: "Quelqu’un",
    agenda: "À faire sur place",
    why: "Pourquoi pas plus haut",
    whyOf: (farm) => `Pourquoi pas plus haut : ${farm}`,
    uncounted: "Comptées sous une raison plus forte de la même cause :",
    next: "Viendraient ensuite si rien ne se passait :",
    nextIn: (n, points) => `dans ${days(n)}, ${points} :`,
    nothing: "Rien d’autre ne demande une visite, ni aujourd’hui ni dans les 30 jours.",
    strips: "Plans",
    keys: { next: "Ferme suivante", previous: "Ferme précédente", plan: "Prévoir une visite à la ferme" },
    map: "Carte des fermes qui ont besoin d’une visite",
    mapHint: "Choisissez une marque pour aller à sa ferme dans la liste.",
    offMap: "Pas sur la carte",
    offMapHint: "Position inconnue ; la ville ou le repère dit où.",
  },
  visits: {
    title: "Visites prévues",
    late: "Sans rapport",
    lateHint: "Leur jour est passé. Dites ce qui a été constaté, ou que personne n’y est allé.",
    ahead: "Les quatre semaines à venir",
    over: "Les quatre dernières semaines",
    showOver: "Montrer les quatre dernières semaines",
    none: "Aucune visite n’est prévue pour les quatre semaines à venir. Prévoyez-en une depuis la liste des fermes qui ont besoin d’une visite.",
    noneOver: "Aucune visite n’est notée pour les quatre dernières semaines.",
    stops: (n) => count(n, `${number(n)} arrêt`, `${number(n)} arrêts`),
    officer: "Personne",
    everyone: "tout le monde",
    more: "D’autres visites",
  },
  farms: {
    title: "Fermes par situation",
    counts: "Combien de fermes dans chaque situation",
    all: "toutes",
    more: "D’autres fermes",
    shown: (n) => `${farms(n)} affichées, la pire situation d’abord.`,
    name: "Ferme",
    standing: "Situation",
    strip: "Plan et décalage",
    why: "Pourquoi",
    holdUp: (name) => `Ce qui retient : ${name}.`,
    noCycle: "Aucun cycle en cours.",
    notSwept: "En cours de calcul.",
    notWatched: "pas suivie",
  },
  confirm: {
    title: "Fermes à confirmer",
    intro:
      "Ces fermes viennent du registre et n’ouvrent pas encore de dossier. Regardez ce qui a été constaté, puis commencez à les suivre.",
    none: "Aucune ferme n’attend d’être confirmée.",
    choose: (farm) => `Choisir ${farm}`,
    chooseAll: "Choisir toutes celles qui sont affichées",
    watchOne: "Commencer à suivre",
    watchOneOf: (farm) => `Commencer à suivre ${farm}`,
    watchMany: (n) => `Commencer à suivre ${farms(n)}`,
    watchBranch: (branch) => `Commencer à suivre toutes celles de ${branch}`,
    sure: (branch) =>
      `Commencer à suivre toutes les fermes de ${branch} qui attendent ? Ce que la revue y trouve ouvrira des dossiers.`,
    watched: (n) => count(n, `${farms(n)} suivie désormais.`, `${farms(n)} suivies désormais.`),
    asIf: "serait",
    details: (n) => count(n, `${number(n)} point en détail`, `${number(n)} points en détail`),
    noFindings: "Rien n’a été constaté.",
    since: (on) => `depuis le ${date(on)}`,
    silenced: (by) => `tu par ${by}`,
    opens: "ouvrirait un dossier",
    more: "D’autres fermes",
  },
  load: {
    title: "Charge",
    intro: "Les conseillers s’en sortent-ils, et quelle règle parle le plus ?",
    from: "Du",
    to: "Au",
    totals: (opened, reopened, settled) =>
      `${count(opened, `${number(opened)} dossier ouvert`, `${number(opened)} dossiers ouverts`)}, ${count(reopened, `${number(reopened)} rouvert`, `${number(reopened)} rouverts`)}, ${count(settled, `${number(settled)} réglé`, `${number(settled)} réglés`)}.`,
    now: (open, overdue) =>
      `À présent ${count(open, `${number(open)} ouvert`, `${number(open)} ouverts`)}, dont ${number(overdue)} hors délai.`,
    byDay: "Dossiers par jour",
    bySweep: "par la revue des fermes",
    byPeople: "par des personnes",
    opened: "Tous",
    day: "Jour",
    line: (n) => `limite : ${number(n)}`,
    showDays: "Les mêmes en tableau",
    branches: "Par agence, pour chaque conseiller",
    branch: "Agence",
    advisors: "Conseillers",
    noAdvisors: "aucun ; compté comme un",
    raised: "Ouverts par la revue",
    mean: "Moyenne par jour",
    worst: "Pire jour",
    worstOn: (n, on) => `${n}, le ${date(on)}`,
    over: (line) => `Jours au-dessus de ${number(line)}`,
    lineWhy: (line) =>
      `La limite est de ${number(line)} dossiers ouverts par la revue pour un conseiller, un mauvais jour (calculée d’après les taux d’alarme de l’ISA-18.2 et de l’EEMUA 191).`,
    rules: "Part de chaque règle",
    rule: "Règle",
    tickets: "Dossiers",
    share: "Part",
    percent: (share) => percent(share * 100),
    origins: "D’où viennent les dossiers",
    originHead: "Ouverts par",
    origin: {
      sweep: "la revue des fermes",
      call: "un échange",
      caretaker: "un soigneur",
      visit: "une visite",
    },
    bursts: "Beaucoup à la fois",
    burst: (n, branch, from, until) => `${number(n)} dossiers à ${branch}, du ${from} au ${until}`,
    service: {
      title: "Comment les dossiers ont été servis",
      firstCall: (settled, calls) =>
        `${number(settled)} sur ${count(calls, "1 dossier né d’un échange", `${number(calls)} dossiers nés d’un échange`)} réglés au premier appel.`,
      firstWord: (inTime, spoken) =>
        `${number(inTime)} sur ${count(spoken, "1 première parole", `${number(spoken)} premières paroles`)} à temps.`,
      waits: (median, ninth) =>
        `La moitié en moins de ${lasting(median)}, neuf sur dix en moins de ${lasting(ninth)}.`,
      reopened: (n) => `${count(n, "1 réglé puis rouvert", `${number(n)} réglés puis rouverts`)}.`,
      stale: (n, most) =>
        `${count(n, "1 intouché", `${number(n)} intouchés`)} depuis 24 heures ; jusqu’à ${number(most)} par jour, c’est bien (ISA-18.2).`,
    },
    people: {
      title: "Entre quelles mains",
      why: "Pour la personne et les responsables seuls : qui porte trop, pas qui est le meilleur.",
      name: "Nom",
      inHand: "En mains",
      waiting: "En attente",
      overdue: "Hors délai",
      settled: "Réglés",
    },
    outbreaks: {
      title: "Le même signe sur des fermes voisines",
      one: (sign, cases, at, since) =>
        `${sign} : ${count(cases, "1 signalement", `${number(cases)} signalements`)} sur ${farms(at)} depuis le ${date(since)}`,
      chance: (expected) => `Le hasard en ferait attendre ${number(expected, 1)}.`,
      alarm: (p) =>
        `Test de permutation dans l’espace et le temps. Sans rien de réel, il parle pour ${percent(p * 100)} des signes.`,
    },
    lying: "Laissés de côté",
    lyingHint: "Hors délai, et personne n’y a touché.",
    noLying: "Rien n’a été laissé de côté.",
    number: "Dossier",
    farm: "Ferme",
    urgency: "Urgence",
    about: "À propos de",
    due: "Plan avant",
    holder: "Entre les mains de",
    nobody: "personne",
    nothing: "Rien n’est venu pendant ces jours.",
  },
  problems: {
    "watch-which": "Choisissez les fermes à suivre.",
    "farm-closed": "Une de ces fermes est close au registre. Rouvrez-la avant de la suivre.",
    "farm-not-found": "Une de ces fermes n’est pas dans vos agences. Relisez la liste.",
    invalid: "Ces jours ne peuvent pas être. Vérifiez-les.",
  },
};

export default fr;
