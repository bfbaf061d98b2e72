import { formatsOf } from "../i18n/format";

const { date } = formatsOf("en");

/** Words of the page on which anybody checks a certificate. */
const en = {
  title: "Is this certificate good?",
  how: "The code stands on the certificate: sixteen letters and digits. Spaces, hyphens and small letters do not matter.",
  code: "Code of the certificate",
  codeEmpty: "Type the code that stands on the certificate.",
  check: "Check it",
  another: "Check another certificate",
  valid: "Valid",
  validText: (on: string) => `Every module on it is valid on ${date(on)}.`,
  notValid: "Not valid",
  notValidText: (on: string) => `Not every module on it is valid on ${date(on)}. The table says which.`,
  name: "Name",
  number: "Code",
  issued: "Issued on",
  modules: "Modules on the certificate",
  module: "Module",
  passed: "Passed on",
  until: "Valid until",
  today: "Today",
  stands: "valid",
  lapsed: "no longer valid",
  none: "not passed",
  problems: {
    "certificate-not-found":
      "No certificate has this code. Compare it with the paper, letter by letter, and try again.",
    "too-many-requests": "Too many tries from this network. Wait a few seconds, then try again.",
    invalid: "This is not a code of ours. It has sixteen letters and digits.",
  } as Record<string, string>,
};

export type CertificateMessages = typeof en;
export default en;
