import { formatsOf } from "../format";
import type { SharedMessages } from "./en";

const { plural, number } = formatsOf("fr");

const fr: SharedMessages = {
  name: "Tendfold",
  skip: "Aller à la page",
  main: "Principal",
  back: "Retour",
  close: "Fermer",
  cancel: "Annuler",
  save: "Enregistrer",
  undo: "Défaire",
  dismiss: "Retirer",
  retry: "Réessayer",
  readAgain: "Relire",
  loading: "Chargement …",
  menu: "Réglages",
  signOut: "Se déconnecter",
  language: "Langue",
  languages: { en: "English", fr: "Français" },
  theme: { label: "Écran", auto: "comme l’appareil", light: "clair", dark: "sombre" },
  areas: {
    manager: "Fermes et visites",
    advisor: "Bureau d’appels",
    caretaker: "Aujourd’hui",
    "field-officer": "Tournée",
    owner: "Mes fermes",
    administrator: "Administration",
  },
  notFound: {
    title: "Rien à cette adresse",
    text: "Vérifiez l’adresse, ou revenez au début.",
    start: "Au début",
  },
  notYours: {
    title: "Cette page est pour un autre rôle",
    text: "Demandez à votre responsable si vous en avez besoin.",
  },
  field: {
    optional: "(facultatif)",
    required: "À remplir.",
    notANumber: (typed) => `« ${typed} » n’est pas un nombre. Écrivez-le comme 12,5.`,
    tooSmall: (least) => `Au moins ${number(least, 3)}.`,
    tooBig: (most) => `Au plus ${number(most, 3)}.`,
    full: (most) => `Pas plus de ${number(most)} caractères ici. Vérifiez la fin du texte.`,
    today: "Aujourd’hui",
    yesterday: "Hier",
    measure: "Mesure",
    phoneHint: "Avec l’indicatif du pays, comme +237, ou comme on le compose ici.",
    showSecret: "Montrer",
    hideSecret: "Cacher",
  },
  trouble: {
    title: "Cela n’a pas marché",
    lastKnown: (when) => `Ce que vous voyez a été lu ${when}.`,
  },
  list: {
    show: "Afficher",
    gone: "n’est plus dans cette liste",
    empty: "Rien ici.",
  },
  keys: {
    title: "Touches",
    key: "Touche",
    does: "Ce qu’elle fait",
    change: "Changer",
    changeOf: (what) => `Changer la touche pour : ${what}`,
    press: "Appuyez sur la nouvelle touche, ou Échap pour garder l’ancienne.",
    taken: (combo, by) => `${combo} sert déjà pour : ${by}.`,
    reserved: (combo) => `${combo} est réservée au navigateur.`,
    reset: "Toutes les touches d’origine",
    singles: "Utiliser des lettres seules comme touches",
    help: "Montrer les touches",
    none: "Cette page n’a pas de touches à elle.",
  },
  sending: {
    label: "Envoi",
    allSent: "Tout est envoyé",
    sending: (n) => plural(n, { one: "Envoi d’une saisie …", other: `Envoi de ${n} saisies …` }),
    kept: (n) =>
      plural(n, {
        one: "1 saisie gardée sur ce téléphone, pas encore envoyée",
        other: `${n} saisies gardées sur ce téléphone, pas encore envoyées`,
      }),
    needsYou: (n) =>
      plural(n, { one: "1 saisie a besoin de vous", other: `${n} saisies ont besoin de vous` }),
    signIn: "Connectez-vous pour les envoyer",
    sendNow: "Envoyer maintenant",
    states: {
      kept: "sur ce téléphone, pas encore envoyé",
      sending: "envoi …",
      sent: "envoyé",
      "needs-you": "a besoin de vous",
    },
  },
  update: { ready: "Une nouvelle version de Tendfold est prête.", take: "L’utiliser" },
  unreachable: "Pas de réseau en ce moment. Ce que vous notez est gardé.",
  problems: {
    "no-network": "Aucune réponse. Vérifiez le réseau et réessayez.",
    internal:
      "Quelque chose a mal tourné chez nous ; rien n’a été changé. Réessayez, et dites-le-nous si cela arrive deux fois.",
    stale: "Quelqu’un a changé ceci depuis que vous l’avez ouvert. Relisez, puis faites votre changement.",
    forbidden: "Votre rôle ne le permet pas. Demandez à votre responsable si vous en avez besoin.",
    invalid: "Une partie de ce que vous avez noté ne peut pas être juste. Voyez les champs marqués.",
    "storage-full":
      "Ce téléphone n’a plus de place : ceci n’a pas été gardé. Faites de la place, puis appuyez de nouveau. Ce qui était gardé est en sûreté.",
    "status-413": "C’est trop pour être envoyé en une fois.",
    "status-429": "Trop d’essais. Attendez un peu, puis réessayez.",
    "status-503": "Le serveur est occupé. Réessayez dans un instant.",
    "no-such-address": "Il n’y a rien à cette adresse.",
  },
};

export default fr;
