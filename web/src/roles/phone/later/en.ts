import { formatsOf } from "../../../i18n/format";

const { dateTime, number, plural } = formatsOf("en");

/** Words of the pages that the first one does not wait for: what was sent, and who reads it. */
const en = {
  sent: {
    none: "Nothing was entered on this phone in the last seven days.",
    again: "Send again",
    discard: "Throw away",
    refused: "Could not be taken:",
    saw: (name: string, at: string, zone: string) => `${name} saw this, ${dateTime(at, zone)}`,
    sealed: (at: string) => `An entry of ${dateTime(at)}, kept sealed`,
    anotherDay: "The right day",
    sendThatDay: "Send with this day",
    anew: "Enter it anew",
  },
  use: {
    kilobytes: (n: number) => `${number(n)} kB`,
    megabytes: (n: number) => `${number(n, 1)} MB`,
    before: (entries: number, size: string) =>
      plural(entries, {
        one: `1 entry waits. Sending it uses about ${size}.`,
        other: `${entries} entries wait. Sending them uses about ${size}.`,
      }),
    month: (size: string) => `Used by Tendfold on this phone this month: about ${size}.`,
  },
  reads: {
    title: "Who can read my entries",
    you: "You, on this phone, once your PIN has opened it. Whoever shares the phone with you sees their own entries only.",
    firm: "Your firm: the advisors and field officers of your branch, its managers and administrators. They read what you send, to help you and the farm.",
    owner:
      "The owner of the farm hears from the firm how the farm is doing. Your notes are not shown to the owner.",
    nobody: "Nobody else. Your PIN stays on this phone; the firm cannot see it.",
    phone:
      "On this phone, what you enter lies readable until you sign out, the firm takes the phone off its list, ten wrong PINs are typed, or 75 days pass without network. Then it is taken off. What was not sent stays, sealed: only the firm's server can open it.",
    lost: "Phone lost or stolen? Call us at once: we take it off the list.",
    seen: "When somebody of the firm has read an entry, its line says who and when.",
  },
  /** Why the server could not take an entry, by code. */
  problems: {
    "entry-refused": "Something in it cannot be right.",
    "entry-unreadable": "It could not be read. Update Tendfold on this phone, then send it again.",
    "farm-not-found": "You do not work on this farm any more. Call us if that is wrong.",
    "farm-closed": "This farm is closed in our register. Call us if that is wrong.",
    "cycle-ended": "This cycle has ended. Throw it away, or call us.",
    "cycle-not-found": "This cycle is not on this farm. Call us.",
    "event-id-taken": "It was sent before with other content. Enter it once more.",
    "go-ahead-missing": "Something must be looked at before this. See the checklist, or call us.",
    forbidden: "Someone of the firm has to mark this. Tell us what you see.",
    future: "The day is after today. Check the date of the phone.",
    far: "The day is too far away. Check the year.",
    "entry-sealed": "It does not open: it was changed, or its key is gone. Tell us what you did that day.",
    unknown: "The firm’s book has changed. Enter it once more, or call us.",
    impossible: "A number cannot be so.",
  } as Record<string, string>,
};

export type LaterMessages = typeof en;
export default en;
