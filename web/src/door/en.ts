import { formatsOf } from "../i18n/format";

const { plural } = formatsOf("en");

/** Words of the ways in: signing in, enrolling a phone, choosing a password, the first run. */
const en = {
  signIn: {
    title: "Sign in",
    ended: "You were signed out. Sign in to go on where you were.",
    login: "E-mail or phone",
    password: "Password",
    code: "Code from your code app",
    go: "Sign in",
    havePhoneCode: "I was given a code for this phone",
  },
  phone: {
    title: (name: string) => `Hello, ${name}`,
    pin: "PIN of this phone",
    go: "Open",
    wrong: (left: number) =>
      plural(left, {
        one: "That is not the PIN. One try is left; then this phone is emptied.",
        other: `That is not the PIN. ${left} tries are left; then this phone is emptied.`,
      }),
    wiped: "Too many wrong PINs: this phone has been emptied. Ask us for a new link or code.",
    forgotten: "PIN forgotten? Ask us for a new link or code.",
  },
  enrol: {
    title: "Use this phone",
    forWhom: (name: string) => `For ${name}.`,
    why: "Choose a PIN of six digits or more. It opens Tendfold on this phone and stays on it.",
    code: "The code that you were told",
    codeHint: "Eight letters and digits. It works for ten minutes.",
    pin: "New PIN",
    pinWrong: "Six digits or more, digits only.",
    go: "Use this phone",
    cost: "Uses about 0.1 MB, once.",
    secure: "This address is not secure, so a phone cannot be used here. Ask us for the right link.",
  },
  password: {
    title: "Choose a password",
    hint: "At least 15 characters: four or five words that have nothing to do with each other.",
    label: "New password",
    go: "Keep this password",
    done: (login: string) => `Your password is kept. Sign in as ${login}.`,
  },
  problems: {
    "sign-in-wrong": "Name, password or code is wrong. Check them and try again.",
    "code-needed": "Type the six digits that your code app shows now.",
    "code-wrong": "This is not the code of this moment. Check the phone's clock and type the newest code.",
    "way-in-over":
      "This link or code is wrong, used up or too old. Ask the person who gave it to you for a new one.",
    "too-many-tries": "Too many tries. Wait a little, then try again.",
    "sign-in-closed": "Too many tries from this network. Wait a little, then try again.",
    "sign-in-busy": "Many people are signing in just now. Wait a few seconds, then try again.",
    "not-signed-in": "You are not signed in, or no longer. Sign in again.",
    "proof-needed": "The phone could not prove itself. Try again.",
    "password-too-short":
      "This password is too short. Use at least 15 characters, for example four or five words.",
    "password-too-long": "This password is too long. Use at most 250 letters.",
    "password-known": "Guessers try this password first. Choose another, for example four or five words.",
    "password-easy":
      "This password is mostly names, repeats or keys in a row. Add words that have nothing to do with each other.",
    "password-not-text": "This password cannot be read. Type it again.",
  } as Record<string, string>,
};

export type DoorMessages = typeof en;
export default en;
