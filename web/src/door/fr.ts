import { formatsOf } from "../i18n/format";
import type { DoorMessages } from "./en";

const { plural } = formatsOf("fr");

const fr: DoorMessages = {
  signIn: {
    title: "Se connecter",
    ended: "Vous avez été déconnecté. Connectez-vous pour reprendre où vous en étiez.",
    login: "E-mail ou téléphone",
    password: "Mot de passe",
    code: "Code de votre application de codes",
    go: "Se connecter",
    havePhoneCode: "On m’a donné un code pour ce téléphone",
  },
  phone: {
    title: (name) => `Bonjour ${name}`,
    pin: "Code PIN de ce téléphone",
    go: "Ouvrir",
    wrong: (left) =>
      plural(left, {
        one: `Ce n’est pas le code PIN. Il reste ${left} essai ; ensuite ce téléphone sera vidé.`,
        other: `Ce n’est pas le code PIN. Il reste ${left} essais ; ensuite ce téléphone sera vidé.`,
      }),
    wiped: "Trop de codes PIN faux : ce téléphone a été vidé. Demandez-nous un nouveau lien ou code.",
    forgotten: "Code PIN oublié ? Demandez-nous un nouveau lien ou code.",
  },
  enrol: {
    title: "Utiliser ce téléphone",
    forWhom: (name) => `Pour ${name}.`,
    why: "Choisissez un code PIN de six chiffres ou plus. Il ouvre Tendfold sur ce téléphone et y reste.",
    code: "Le code qu’on vous a dit",
    codeHint: "Huit lettres et chiffres. Il marche dix minutes.",
    pin: "Nouveau code PIN",
    pinWrong: "Six chiffres ou plus, seulement des chiffres.",
    go: "Utiliser ce téléphone",
    cost: "Utilise environ 0,1 Mo, une fois.",
    secure: "Cette adresse n’est pas sûre : un téléphone ne peut pas l’utiliser. Demandez-nous le bon lien.",
  },
  password: {
    title: "Choisir un mot de passe",
    hint: "Au moins 15 caractères : quatre ou cinq mots qui n’ont rien à voir entre eux.",
    label: "Nouveau mot de passe",
    go: "Garder ce mot de passe",
    done: (login) => `Votre mot de passe est gardé. Connectez-vous comme ${login}.`,
  },
  problems: {
    "sign-in-wrong": "Nom, mot de passe ou code faux. Vérifiez-les et réessayez.",
    "code-needed": "Tapez les six chiffres que votre application de codes montre maintenant.",
    "code-wrong":
      "Ce n’est pas le code de ce moment. Vérifiez l’heure du téléphone et tapez le dernier code.",
    "way-in-over":
      "Ce lien ou ce code est faux, déjà utilisé ou trop vieux. Demandez-en un nouveau à qui vous l’a donné.",
    "too-many-tries": "Trop d’essais. Attendez un peu, puis réessayez.",
    "sign-in-closed": "Trop d’essais depuis ce réseau. Attendez un peu, puis réessayez.",
    "sign-in-busy": "Beaucoup de gens se connectent. Attendez quelques secondes, puis réessayez.",
    "not-signed-in": "Vous n’êtes pas connecté, ou plus. Connectez-vous de nouveau.",
    "proof-needed": "Le téléphone n’a pas pu se faire reconnaître. Réessayez.",
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
