import { formatsOf } from "../i18n/format";
import type { CertificateMessages } from "./en";

const { date } = formatsOf("fr");

const fr: CertificateMessages = {
  title: "Ce certificat est-il bon ?",
  how: "Le code est sur le certificat : seize lettres et chiffres. Les espaces, les traits d’union et les minuscules ne comptent pas.",
  code: "Code du certificat",
  codeEmpty: "Tapez le code qui est sur le certificat.",
  check: "Vérifier",
  another: "Vérifier un autre certificat",
  valid: "Valable",
  validText: (on) => `Tous ses modules sont valables le ${date(on)}.`,
  notValid: "Pas valable",
  notValidText: (on) =>
    `Ses modules ne sont pas tous valables le ${date(on)}. Le tableau dit lesquels ne le sont pas.`,
  name: "Nom",
  number: "Code",
  issued: "Délivré le",
  modules: "Modules du certificat",
  module: "Module",
  passed: "Validé le",
  until: "Valable jusqu’au",
  today: "Aujourd’hui",
  stands: "valable",
  lapsed: "n’est plus valable",
  none: "pas validé",
  problems: {
    "certificate-not-found":
      "Aucun certificat n’a ce code. Comparez-le au papier, lettre par lettre, et réessayez.",
    "too-many-requests": "Trop d’essais depuis ce réseau. Attendez quelques secondes, puis réessayez.",
    invalid: "Ce n’est pas un de nos codes. Il a seize lettres et chiffres.",
  },
};

export default fr;
