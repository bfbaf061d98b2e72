import { formatsOf } from "../../i18n/format";
import type { RoundMessages } from "./en";

const { date } = formatsOf("fr");

const fr: RoundMessages = {
  title: "Tournée du jour",
  today: (on) => `Aujourd’hui, ${date(on)}`,
  none: "Aucune visite n’est prévue pour vous aujourd’hui.",
  late: "Pas encore rapportées",
  lateHint:
    "Elles étaient prévues pour un jour passé. Dites ce qui a été constaté, ou pourquoi personne n’y est allé.",
  ahead: "Les jours suivants",
  farm: "Ouvrir la ferme : à faire, points à vérifier, pesées",
  dark: "Soyez de retour avant la nuit. N’entrez pas dans une zone fermée. Allez en dernier dans une ferme où l’on soupçonne une maladie, avec ses propres bottes et filets.",
  more: "Suite",
};

export default fr;
