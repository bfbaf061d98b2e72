import { formatsOf } from "../../i18n/format";
import type { SheetMessages } from "./en";

const { date, number, plural } = formatsOf("fr");

const fr: SheetMessages = {
  title: (unit) => `Cahier sur papier : ${unit}`,
  print: {
    title: "Imprimer une page",
    help: "Une feuille A4 pour deux semaines : tous les champs de cette unité, qui appeler, une place pour signer.",
    from: "Premier jour",
    page: { en: "Imprimer en anglais", fr: "Imprimer en français" },
    file: (unit, from) => `cahier ${unit} ${from}.pdf`,
  },
  entry: {
    title: "Saisir une page",
    help: "Une colonne par jour, comme sur la page. Ce qui y est vide reste vide ici : vide n’est pas zéro. Pour une réponse numérotée, tapez le numéro.",
    keys: "Entrée ou ↓ descend, Tab passe au jour suivant, Ctrl+Entrée enregistre.",
    from: "Premier jour de la page",
    writtenBy: "Qui a rempli la page ?",
    choose: "Choisir",
    nobody:
      "Personne n’est inscrit comme travaillant dans cette ferme. Inscrivez d’abord qui y travaille : une page est gardée au nom de la personne qui l’a remplie.",
    grid: (from, to) => `Cahier d’élevage, du ${date(from)} au ${date(to)}`,
    what: "Quoi",
    well: "Tout va bien, aucune mort",
    note: "Note",
    state: "Enregistré ?",
    states: {
      kept: "enregistré",
      changed: "pas encore",
      refused: "à revoir",
      before: "déjà noté",
      ahead: "à venir",
    },
    cell: (line, on) => `${line}, ${date(on)}`,
    answers: (choices) => choices.map((c, i) => `${i + 1} ${c}`).join(" · "),
    whole: (days) =>
      `Pour ces jours, la ferme entière a aussi sa propre saisie. Elle reste comme elle est : ${days}.`,
    save: "Enregistrer la page",
    saving: (n) => plural(n, { one: "Enregistrer 1 jour", other: `Enregistrer ${n} jours` }),
    saved: (n) => plural(n, { one: "1 jour enregistré.", other: `${n} jours enregistrés.` }),
    nothing: "Rien n’a encore changé.",
    look: "À revoir",
    sure: "C’est bien cela",
    sureOf: (what) => `C’est bien cela : ${what}`,
    allSure: "Tout cela est juste",
    drafted: "Ce que vous aviez tapé est encore là. Ce n’est pas encore enregistré.",
  },
  wrong: {
    "not-a-number": (typed) => `« ${typed} » n’est pas un nombre.`,
    "no-answer": (typed) => `« ${typed} » n’est le numéro d’aucune réponse.`,
    "no-day": (typed) => `« ${typed} » n’est pas un jour. Écrivez-le ainsi : 12/3.`,
    "not-both": "Tout va bien veut dire que rien n’est mort. L’un des deux est faux.",
    whole: "On compte en nombres entiers.",
    low: (limit) => `Cela ne peut pas être moins que ${number(limit, 2)}.`,
    high: (limit) => `Cela ne peut pas être plus que ${number(limit, 2)}.`,
    stock: (limit) => `C’est impossible : au plus ${number(limit)} d’après le registre.`,
    unlikely: (typed) => `${typed} : est-ce bien cela ?`,
  },
  problems: {
    "farm-closed": "Cette ferme est fermée dans le registre. Rouvrez-la d’abord.",
    "unit-not-found": "Cette unité n’est pas dans vos agences, ou n’est plus dans le registre.",
    "caretaker-not-found": "Cette personne ne travaille plus dans la ferme. Choisissez-en une autre.",
    "day-far": "Ce jour est trop loin. Vérifiez l’année.",
    impossible: "C’est impossible. Vérifiez le nombre.",
    unlikely: "Est-ce bien cela ?",
    future: "Ce jour est après aujourd’hui.",
    far: "Ce jour est trop loin. Vérifiez l’année.",
    unknown: "Le cahier n’a pas cela. Relisez la page.",
    "too-long": "Ce texte est trop long.",
    later: "Ce jour n’est pas passé. Enregistrez de nouveau.",
  },
};

export default fr;
