import { formatsOf } from "../i18n/format";

const { plural } = formatsOf("en");

/** Words of the lock: opening the phone, a forgotten PIN, leaving, choosing a password. */
const en = {
  who: "Who are you?",
  title: (name: string) => `Hello, ${name}`,
  pin: "PIN of this phone",
  open: "Open",
  wrong: (left: number) =>
    plural(left, {
      one: "That is not the PIN. One try is left; then what can be read of you is taken off this phone.",
      other: `That is not the PIN. ${left} tries are left; then what can be read of you is taken off this phone.`,
    }),
  forgotten: "I forgot my PIN",
  another: "I am somebody else",
  newcomer: "I was given a link or code for this phone",
  forgot: {
    title: "A new PIN",
    how: "Call us. We ask who you are and read out a code of eight letters and digits. Type it here and choose a new PIN.",
    safe: "Nothing is lost: what you entered on this phone stays and is sent.",
    call: (name: string) => `Call ${name}`,
    noNumber: "Call the person who set up this phone with you.",
    back: "I know my PIN",
  },
  leave: {
    title: "Leave this phone",
    lock: "Lock it",
    lockHint: "Your PIN opens it again, also without network.",
    out: "Sign out",
    outHint:
      "What can be read of you is taken off this phone. To come back you need a new link or code from us.",
    unsent: (n: number) =>
      plural(n, {
        one: "1 entry is not sent. It stays on this phone, sealed: nobody can read it, and it is sent once you are back.",
        other: `${n} entries are not sent. They stay on this phone, sealed: nobody can read them, and they are sent once you are back.`,
      }),
  },
  password: {
    title: "Choose a password",
    hint: "At least 15 characters: four or five words that have nothing to do with each other.",
    label: "New password",
    go: "Keep this password",
    done: (login: string) => `Your password is kept. Sign in as ${login}.`,
  },
  problems: {
    "password-too-short":
      "This password is too short. Use at least 15 characters, for example four or five words.",
    "password-too-long": "This password is too long. Use at most 250 letters.",
    "password-known": "Guessers try this password first. Choose another, for example four or five words.",
    "password-easy":
      "This password is mostly names, repeats or keys in a row. Add words that have nothing to do with each other.",
    "password-not-text": "This password cannot be read. Type it again.",
  } as Record<string, string>,
};

export type LockMessages = typeof en;
export default en;
