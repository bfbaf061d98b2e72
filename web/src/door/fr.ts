import type { DoorMessages } from "./en";

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
    wiped:
      "Trop de codes PIN faux : ce qui pouvait être lu de vous a été retiré de ce téléphone. Ce que vous avez noté y reste, scellé, et partira à votre retour. Appelez-nous pour un nouveau code.",
    revoked:
      "Ce téléphone n’est plus admis : ce qui pouvait être lu de vous en a été retiré. Ce qui n’était pas envoyé y reste, scellé. Appelez-nous pour un nouveau code.",
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
  },
};

export default fr;
