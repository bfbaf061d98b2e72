import { formatsOf } from "../i18n/format";
import type { LockMessages } from "./en";

const { plural } = formatsOf("fr");

const fr: LockMessages = {
  who: "Qui êtes-vous ?",
  title: (name) => `Bonjour ${name}`,
  pin: "Code PIN de ce téléphone",
  open: "Ouvrir",
  wrong: (left) =>
    plural(left, {
      one: `Ce n’est pas le code PIN. Il reste ${left} essai ; ensuite, ce qui peut être lu de vous sera retiré de ce téléphone.`,
      other: `Ce n’est pas le code PIN. Il reste ${left} essais ; ensuite, ce qui peut être lu de vous sera retiré de ce téléphone.`,
    }),
  forgotten: "J’ai oublié mon code PIN",
  another: "Je suis quelqu’un d’autre",
  newcomer: "On m’a donné un lien ou un code pour ce téléphone",
  forgot: {
    title: "Un nouveau code PIN",
    how: "Appelez-nous. Nous demandons qui vous êtes et lisons un code de huit lettres et chiffres. Tapez-le ici et choisissez un nouveau code PIN.",
    safe: "Rien n’est perdu : ce que vous avez noté sur ce téléphone y reste et sera envoyé.",
    call: (name) => `Appeler ${name}`,
    noNumber: "Appelez la personne qui a préparé ce téléphone avec vous.",
    back: "Je connais mon code PIN",
  },
  leave: {
    title: "Quitter ce téléphone",
    lock: "Le verrouiller",
    lockHint: "Votre code PIN l’ouvre de nouveau, même sans réseau.",
    out: "Se déconnecter",
    outHint:
      "Ce qui peut être lu de vous est retiré de ce téléphone. Pour revenir, il vous faut un nouveau lien ou code de notre part.",
    unsent: (n) =>
      plural(n, {
        one: `${n} saisie n’est pas envoyée. Elle reste scellée sur ce téléphone : personne ne peut la lire, et elle partira à votre retour.`,
        other: `${n} saisies ne sont pas envoyées. Elles restent scellées sur ce téléphone : personne ne peut les lire, et elles partiront à votre retour.`,
      }),
  },
  password: {
    title: "Choisir un mot de passe",
    hint: "Au moins 15 caractères : quatre ou cinq mots qui n’ont rien à voir entre eux.",
    label: "Nouveau mot de passe",
    go: "Garder ce mot de passe",
    done: (login) => `Votre mot de passe est gardé. Connectez-vous comme ${login}.`,
  },
  problems: {
    "password-too-short":
      "Ce mot de passe est trop court. Au moins 15 caractères, par exemple quatre ou cinq mots.",
    "password-too-long": "Ce mot de passe est trop long. Au plus 250 lettres.",
    "password-known":
      "Ce mot de passe est parmi les premiers qu’on essaie. Choisissez-en un autre, par exemple quatre ou cinq mots.",
    "password-easy":
      "Ce mot de passe est surtout fait de noms, de répétitions ou de touches qui se suivent. Ajoutez des mots qui n’ont rien à voir entre eux.",
    "password-not-text": "Ce mot de passe ne peut pas être lu. Tapez-le de nouveau.",
  },
};

export default fr;
