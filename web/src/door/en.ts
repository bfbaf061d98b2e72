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
    wiped:
      "Too many wrong PINs: what could be read of you was taken off this phone. What you entered stays on it, sealed, and is sent once you are back. Call us for a new code.",
    revoked:
      "This phone is no longer let in, so what could be read of you was taken off it. What was not sent stays on it, sealed. Call us for a new code.",
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
  } as Record<string, string>,
};

export type DoorMessages = typeof en;
export default en;
