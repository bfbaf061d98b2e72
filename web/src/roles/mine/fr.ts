import { formatsOf } from "../../i18n/format";
import type { MineMessages } from "./en";

const { date } = formatsOf("fr");

const fr: MineMessages = {
  title: "Mes fermes",
  none: "Aucune ferme n’est encore à votre nom. Demandez au cabinet.",
  harvest: (p50, p90) =>
    `Première récolte : le plus probable vers le ${date(p50)}, 9 fois sur 10 avant le ${date(p90)}.`,
  estimate:
    "C’est une estimation d’après ce que l’on sait aujourd’hui, pas une promesse de revenu. Si quelque chose change, le cabinet vous appelle.",
  notYet: "Les dates sont calculées dès que le premier jour est noté.",
  ahead: "Ce qui vient",
  aheadOf: (unit) => `Ce qui vient : ${unit}`,
  ask: "Demander une visite",
  askOf: (farm) => `Demander une visite : ${farm}`,
  what: "Que faut-il regarder ?",
  send: "Envoyer",
  sent: "Le cabinet a votre demande.",
  more: "Suite",
};

export default fr;
