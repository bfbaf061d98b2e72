import { formatsOf } from "../../i18n/format";
import type { ProjectionMessages } from "./en";

const { date, measure, number, percent, plural } = formatsOf("fr");

const fr: ProjectionMessages = {
  title: (unit) => (unit ? `Ce qui vient : ${unit}` : "Ce qui vient"),
  why: {
    "no-figures": "Le cabinet n’a pas encore de chiffres pour ces animaux : rien n’est projeté.",
    "no-area":
      "La fiche de construction ne dit pas la taille de l’unité. Saisissez d’abord longueur et largeur.",
    "no-animals":
      "Rien n’a encore été mis en charge. La projection commence avec la première mise en charge.",
    "too-old": "Les animaux sont là depuis plus de cinq ans. Comptez-les et ouvrez un nouveau cycle.",
  },
  caution: "Les projections sont des estimations sous des hypothèses dites, pas des promesses de revenu.",
  bandHint: "La ligne est le cours le plus probable. Dans 8 vies sur 10, l’unité reste dans la bande.",
  learned: (effective) =>
    `Ajusté aux chiffres de cette unité (${number(effective)} essais indépendants les expliquent).`,
  unlearned: "Rien n’a encore été compté ni noté ici : seuls les chiffres du cabinet comptent.",
  tempered: (part) =>
    `Les chiffres de l’unité vont mal avec ce qu’on sait de ces animaux. Ils comptent pour ${percent(100 * part)} de leur poids ; faites-les vérifier.`,

  advice: {
    "full-now": (v) =>
      `L’unité est trop pleine, ou le sera d’ici 28 jours : ${percent(v.n("percent"))} de chances. Elle porte environ ${measure(v.n("carries_kg"), "kg")}. Vendez ou sortez des animaux dès maintenant.`,
    "full-by": (v) =>
      v.s("likely")
        ? `L’unité est pleine vers le ${date(v.s("likely"))}, peut-être dès le ${date(v.s("early"))}. Elle porte environ ${measure(v.n("carries_kg"), "kg")} ; prévoyez ${plural(v.n("units"), { one: "de la place", other: `${number(v.n("units"))} unités de cette taille` })} ou un acheteur avant la première date.`
        : `L’unité peut être pleine dès le ${date(v.s("early"))}. Elle porte environ ${measure(v.n("carries_kg"), "kg")} ; regardez à nouveau avant cette date.`,
    "room-enough": (v) =>
      `Il y a de la place pour ce qui vient : au plus ${measure(v.n("peak_kg"), "kg")} sur environ ${measure(v.n("carries_kg"), "kg")}.`,
    "count-asks": (v) =>
      `Le ${date(v.s("on"))}, on a compté ${number(v.n("counted"))} animaux ; on en attendait ${number(v.n("low"))} à ${number(v.n("high"))}. Fuite, vol ou erreur de comptage ? Demandez à la ferme. D’ici là, ce comptage ne change rien.`,
    "ready-by": (v) =>
      `Le poids moyen passe ${measure(v.n("market_g"), "g")} vers le ${date(v.s("likely"))}${v.s("early") && v.s("late") ? `, 8 fois sur 10 entre le ${date(v.s("early"))} et le ${date(v.s("late"))}` : ""}.`,
  },
  countHelp:
    "Échappés ou volés : notez-les comme disparus dans le cahier. Mal comptés : recomptez. Si le comptage est juste, voyez plus bas ce qu’il voudrait dire.",

  density: {
    title: "Place",
    now: (kgM2, carries) =>
      `${kgM2} kg/m² à la fin du mois ; au-delà de ${carries} kg/m², les animaux se gênent.`,
    words: {
      roomy: "Beaucoup de place.",
      good: "Bien rempli.",
      tight: "Presque plein.",
      crowded: "Trop plein : les animaux grandissent moins vite, pondent moins et meurent plus.",
    },
  },
  kg: "Poids de tous les animaux, kg",
  carries: "ce que le sol porte",
  animals: "Animaux",
  adults: "Adultes",
  saleable: (g) => `À vendre (dès ${measure(g, "g")})`,
  sold: "Vendus",
  soldKg: "Vendus, kg",
  fish: "Poissons",
  meanG: "Poids moyen, g",
  month: "Jusqu’au",
  week: "Semaine au",
  perMonth: "Mois par mois",
  perWeek: "Semaine par semaine",
  feed: {
    title: "Aliment et calcium des mois à venir",
    table: "Aliment par mois",
    fish: "Aliment à commander",
    hint: "Par semaine, pour tous les animaux. L’aliment frais est un plafond : donnez ce qui est mangé au matin.",
    dry: "Aliment sec, kg par semaine",
    fresh: "Feuilles et fruits, kg par semaine",
    calcium: "Poudre de coquille, kg par semaine",
    order: (low, likely, high) =>
      `Pour les quatre semaines à venir : environ ${measure(likely, "kg")}, entre ${number(low)} et ${measure(high, "kg")}.`,
    kg: "Aliment, kg",
  },
  classes: "Par classe de poids",
  class: "Poids",
  classFrom: (from) => `${number(from)} g et plus`,
  classTo: (to) => `moins de ${measure(to, "g")}`,
  classBetween: (from, to) => `${number(from)} à ${measure(to, "g")}`,
  survival: (low, likely, high) =>
    `Vivants à la fin : environ ${percent(100 * likely)} (${number(100 * low)} à ${percent(100 * high)}).`,
  fcr: (low, likely, high) =>
    `Aliment pour un kilo de gain : environ ${measure(likely, "kg", 2)} (${number(low, 2)} à ${measure(high, "kg", 2)}).`,

  bare: {
    title: "Ce que le métier promet",
    sum: (adults, layings, eggs, animals) =>
      `${number(adults)} escargots × ${number(layings)} pontes × ${number(eggs)} œufs = ${number(animals)} escargots par an sur le papier.`,
    room: (low, high, g) => `Ce sol porte ${number(low)} à ${number(high)} escargots de ${measure(g, "g")}.`,
    floor:
      "Le compte ne peut donc pas être bon ici : trop serrés, les escargots grandissent mal, pondent peu et meurent. Les œufs qui n’éclosent pas et les jeunes qui meurent n’y sont pas non plus.",
    published: (low, high) => `Publié pour cette espèce : ${number(low)} à ${number(high)} œufs par an.`,
    unsourced: "Un dire du métier, sans source. Il ne sert à aucun calcul.",
  },

  how: {
    title: "D’où vient ce résultat",
    text: "On suit mille vies possibles de cette unité, semaine après semaine : les œufs éclosent, les animaux grandissent, se gênent, pondent, meurent et se vendent. Chacune tire ses propres chiffres dans les fourchettes ci-dessous.",
    formula:
      "Encombrement x = poids de tous les animaux ÷ (ce qu’un mètre carré porte × surface). Au-dessus de 1, croissance, ponte et éclosion baissent comme x^−θ et les morts montent comme x^φ.",
    fishFormula: "Un poisson gagne chaque jour son poids × ration ÷ indice de consommation.",
    facts: (area, putIn) => `Surface ${area} m², ${number(putIn)} animaux mis en charge.`,
    figure: "Chiffre",
    low: "Bas",
    likely: "Probable",
    high: "Haut",
    source: "Repose sur",
    none: "non montré ici",
  },
  inputs: {
    hatchling_weight: "Poids à l’éclosion",
    grown_weight: "Poids à 24 mois",
    eggs_year: "Œufs par adulte et par an",
    clutch_eggs: "Œufs par ponte",
    incubation_days: "Jours jusqu’à l’éclosion",
    hatch: "Œufs qui éclosent",
    hatchling_loss: "Morts du premier mois",
    juvenile_loss: "Morts des jeunes, par mois",
    adult_loss: "Morts des adultes, par mois",
    unseen_loss: "Disparus sans corps, par mois",
    maturity_months: "Âge aux premiers œufs",
    capacity_kg_m2: "Ce qu’un mètre carré porte",
    theta: "Puissance θ de l’encombrement sur la croissance",
    phi: "Puissance φ de l’encombrement sur les morts",
    weight_cv: "Écart entre animaux",
    dry_feed: "Aliment sec, par jour",
    fresh_feed: "Feuilles et fruits, par jour",
    calcium_of_dry_feed: "Poudre de coquille, de l’aliment sec",
    fcr: "Aliment pour un kilo de gain",
    survival: "Vivants après 185 jours",
    ration: "Ration, par jour",
  },
  measures: {
    eggs: (v) => number(v),
    days: (v) => measure(v, "jours"),
    share: (v) => percent(100 * v, 1),
    "share-a-month": (v) => percent(100 * v, 1),
    "share-a-day": (v) => percent(100 * v, 1),
    months: (v) => measure(v, "mois"),
    "kg/m2": (v) => measure(v, "kg/m²", 2),
    g: (v) => measure(v, "g", 1),
    power: (v) => number(v, 2),
    "kg/kg": (v) => measure(v, "kg", 2),
  },
  grades: {
    T: "publié, la source elle-même a été lue",
    A: "publié, le résumé ou la page officielle a été lu",
    B: "d’un blog, de la presse ou d’une fiche de conseil",
    D: "calculé à partir de chiffres publiés",
    "common-practice": "pratique courante, sans source",
    constructed: "calculé, sans source directe",
    "from-memory": "notre estimation, pas encore vérifiée",
  },

  whatIf: {
    title: "Changer une hypothèse",
    hint: "Un essai se tient à côté du plan et n’est pas gardé.",
    market: "Vendre dès",
    every: "Vendre tous les",
    days: "jours",
    parents: "Garder comme parents",
    thin: "Sortir des animaux dès que l’unité est pleine",
    price: "Prix d’un animal",
    month: "Frais par mois",
    once: "Frais une fois",
    currency: "dans la monnaie du cabinet",
    see: "Voir ce qui suit",
    back: "Revenir au plan",
    changed: "Ceci est un essai, pas le plan.",
    assumed: (g, every, parents) =>
      `Hypothèse : ${every > 0 ? `tout ce qui pèse ${measure(g, "g")} et plus se vend tous les ${measure(every, "jours")}` : "rien ne se vend"}${parents > 0 ? ` ; ${number(parents)} adultes restent comme parents` : ""}.`,
    money: (low, likely, high) =>
      `Ce qui reste à ces prix sur toute la durée montrée : environ ${likely}, entre ${low} et ${high}. Une estimation, pas une promesse de revenu.`,
  },
  problems: {},
};

export default fr;
