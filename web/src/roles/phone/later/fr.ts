import { formatsOf } from "../../../i18n/format";
import type { LaterMessages } from "./en";

const { dateTime, number, plural } = formatsOf("fr");

const fr: LaterMessages = {
  sent: {
    none: "Rien n’a été saisi sur ce téléphone ces sept derniers jours.",
    again: "Renvoyer",
    discard: "Jeter",
    refused: "N’a pas pu être pris :",
    saw: (name, at, zone) => `${name} l’a vu, ${dateTime(at, zone)}`,
    sealed: (at) => `Une saisie du ${dateTime(at)}, gardée scellée`,
    anotherDay: "Le bon jour",
    sendThatDay: "Envoyer avec ce jour",
    anew: "Saisir de nouveau",
  },
  use: {
    kilobytes: (n) => `${number(n)} ko`,
    megabytes: (n) => `${number(n, 1)} Mo`,
    before: (entries, size) =>
      plural(entries, {
        one: `${entries} saisie attend. L’envoyer utilise environ ${size}.`,
        other: `${entries} saisies attendent. Les envoyer utilise environ ${size}.`,
      }),
    month: (size) => `Utilisé par Tendfold sur ce téléphone ce mois-ci : environ ${size}.`,
  },
  reads: {
    title: "Qui peut lire mes saisies",
    you: "Vous, sur ce téléphone, quand votre code PIN l’a ouvert. Qui partage le téléphone avec vous ne voit que ses propres saisies.",
    firm: "Votre cabinet : les conseillers et agents de terrain de votre agence, ses responsables et administrateurs. Ils lisent ce que vous envoyez, pour vous aider et aider la ferme.",
    owner:
      "Le propriétaire de la ferme apprend du cabinet comment va la ferme. Vos saisies ne lui sont pas montrées.",
    nobody: "Personne d’autre. Votre code PIN reste sur ce téléphone ; le cabinet ne peut pas le voir.",
    phone:
      "Sur ce téléphone, ce que vous saisissez reste lisible jusqu’à ce que vous vous déconnectiez, que le cabinet retire le téléphone de sa liste, que dix codes PIN faux soient tapés, ou que 75 jours passent sans réseau. Alors c’est retiré. Ce qui n’était pas envoyé reste, scellé : seul le serveur du cabinet peut l’ouvrir.",
    lost: "Téléphone perdu ou volé ? Appelez-nous tout de suite : nous le retirons de la liste.",
    seen: "Quand quelqu’un du cabinet a lu une saisie, sa ligne dit qui et quand.",
  },
  problems: {
    "entry-refused": "Quelque chose ne peut pas être juste.",
    "entry-unreadable": "Cela n’a pas pu être lu. Mettez Tendfold à jour sur ce téléphone, puis renvoyez.",
    "farm-not-found": "Vous ne travaillez plus sur cette ferme. Appelez-nous si c’est faux.",
    "farm-closed": "Cette ferme est fermée dans notre registre. Appelez-nous si c’est faux.",
    "cycle-ended": "Ce cycle est fini. Jetez la saisie, ou appelez-nous.",
    "cycle-not-found": "Ce cycle n’est pas sur cette ferme. Appelez-nous.",
    "event-id-taken": "Cela a déjà été envoyé avec un autre contenu. Saisissez-le encore une fois.",
    "go-ahead-missing": "Il faut d’abord vérifier autre chose. Voyez la liste, ou appelez-nous.",
    forbidden: "C’est à quelqu’un du cabinet de marquer cela. Dites-nous ce que vous voyez.",
    future: "Le jour est après aujourd’hui. Vérifiez la date du téléphone.",
    far: "Le jour est trop loin. Vérifiez l’année.",
    "entry-sealed":
      "Cela ne s’ouvre pas : c’est changé, ou sa clé n’existe plus. Dites-nous ce que vous avez fait ce jour-là.",
    unknown: "Le cahier du cabinet a changé. Saisissez-le encore une fois, ou appelez-nous.",
    impossible: "Un nombre ne peut pas être ainsi.",
  },
};

export default fr;
