import type { FirstRunMessages } from "./en";

const fr: FirstRunMessages = {
  title: "Installer Tendfold",
  intro: "Une fois, pour tout le cabinet. Tout peut être changé plus tard.",
  firm: "Votre cabinet",
  name: "Nom du cabinet",
  language: "Langue dans laquelle le cabinet écrit",
  zone: "Fuseau horaire",
  zoneHint: "Comme Africa/Douala.",
  currency: "Monnaie",
  currencyHint: "Trois lettres, comme XAF.",
  branch: "Première agence",
  branchName: "Nom de l’agence",
  country: "Pays",
  countryHint: "Deux lettres, comme CM. Ses jours fériés viennent avec.",
  admin: "Premier administrateur",
  adminName: "Nom",
  login: "E-mail",
  go: "Installer",
  wrong: {
    name: "Donnez un nom de 200 caractères au plus.",
    time_zone: "Ce fuseau horaire n’existe pas. Écrivez-le comme Africa/Douala.",
    currency: "Cette monnaie n’existe pas. Écrivez ses trois lettres, comme XAF.",
    country: "Ce pays n’existe pas. Écrivez ses deux lettres, comme CM.",
    email: "Ce n’est pas une adresse e-mail.",
  },
  done: "Tendfold est installé. Ensuite : apportez votre registre.",
  problems: {
    "firm-refused": "Le cabinet ne peut pas être enregistré ainsi. Voyez les champs marqués.",
    "branch-refused": "L’agence ne peut pas être enregistrée ainsi. Voyez les champs marqués.",
    "person-refused": "L’administrateur ne peut pas être enregistré ainsi. Voyez les champs marqués.",
    "set-up-already":
      "Ce cabinet est déjà installé. Connectez-vous, ou demandez un accès à l’administrateur.",
  },
};

export default fr;
