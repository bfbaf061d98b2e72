import { formatsOf } from "../format";

const { plural, number } = formatsOf("en");

/** Words that every screen needs, whatever the role: these travel with the first load. */
const en = {
  name: "Tendfold",
  skip: "Skip to the page",
  main: "Main",
  back: "Back",
  close: "Close",
  cancel: "Cancel",
  save: "Save",
  undo: "Undo",
  dismiss: "Dismiss",
  retry: "Try again",
  readAgain: "Read again",
  loading: "Loading …",
  menu: "Settings",
  signOut: "Sign out",
  language: "Language",
  languages: { en: "English", fr: "Français" },
  theme: { label: "Screen", auto: "as the device", light: "light", dark: "dark" },
  areas: {
    manager: "Farms and visits",
    advisor: "Call desk",
    caretaker: "Today",
    "field-officer": "Round",
    owner: "My farms",
    administrator: "Office",
  },
  notFound: {
    title: "Nothing at this address",
    text: "Check the address, or go back to the start.",
    start: "To the start",
  },
  notYours: {
    title: "This page is for another role",
    text: "Ask your manager if you need it.",
  },
  field: {
    optional: "(optional)",
    required: "Fill this in.",
    notANumber: (typed: string) => `“${typed}” is not a number. Write it like 12.5.`,
    tooSmall: (least: number) => `${number(least, 3)} is the least this can be.`,
    tooBig: (most: number) => `${number(most, 3)} is the most this can be.`,
    full: (most: number) => `No more than ${number(most)} characters fit here. Check the end of the text.`,
    today: "Today",
    yesterday: "Yesterday",
    measure: "Measure",
    phoneHint: "With the country code, like +237, or as people dial it here.",
    showSecret: "Show",
    hideSecret: "Hide",
  },
  trouble: {
    title: "This did not work",
    lastKnown: (when: string) => `What you see was read ${when}.`,
  },
  list: {
    show: "Show",
    gone: "no longer in this list",
    empty: "Nothing here.",
  },
  keys: {
    title: "Keys",
    key: "Key",
    does: "What it does",
    change: "Change",
    changeOf: (what: string) => `Change the key for: ${what}`,
    press: "Press the new key, or Escape to keep the old one.",
    taken: (combo: string, by: string) => `${combo} is already used for: ${by}.`,
    reserved: (combo: string) => `${combo} belongs to the browser.`,
    reset: "All keys as they were",
    singles: "Use single letters as keys",
    help: "Show the keys",
    none: "This page has no keys of its own.",
  },
  sending: {
    label: "Sending",
    allSent: "All sent",
    sending: (n: number) => plural(n, { one: "Sending 1 entry …", other: `Sending ${n} entries …` }),
    kept: (n: number) =>
      plural(n, {
        one: "1 entry kept on this phone, not sent yet",
        other: `${n} entries kept on this phone, not sent yet`,
      }),
    needsYou: (n: number) => plural(n, { one: "1 entry needs you", other: `${n} entries need you` }),
    signIn: "Sign in to send them",
    sendNow: "Send now",
    states: {
      kept: "on this phone, not sent yet",
      sending: "sending …",
      sent: "sent",
      "needs-you": "needs you",
    },
  },
  update: { ready: "A new version of Tendfold is ready.", take: "Use it now" },
  unreachable: "No network just now. What you enter is kept.",
  // By the code of a problem; the server's own text stands in where a code is missing.
  problems: {
    "no-network": "No answer came back. Check the network and try again.",
    internal:
      "Something went wrong on our side; nothing was changed. Try again, and tell us if it happens twice.",
    stale: "Someone has changed this since you opened it. Read it again, then make your change.",
    forbidden: "Your role does not allow this. Ask your manager if you need it.",
    invalid: "Some of what you entered cannot be right. See the marked fields.",
    "storage-full":
      "This phone has no room left, so this was not kept. Make room, then press again. What was kept before is safe.",
    "status-413": "This is more than can be sent in one piece.",
    "status-429": "Too many tries. Wait a little, then try again.",
    "status-503": "The server is busy. Try again in a moment.",
    "no-such-address": "There is nothing at this address.",
  } as Record<string, string>,
};

export type SharedMessages = typeof en;
export default en;
