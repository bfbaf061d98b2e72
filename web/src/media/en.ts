import { formatsOf } from "../i18n/format";

const { number, plural } = formatsOf("en");

const mb = (bytes: number) => `${number(Math.max(0.1, bytes / 1_000_000), 1)} MB`;

const en = {
  of: (kind: string, what: string) => `${kind}: ${what}`,
  photo: "Photo",
  voice: "Voice note",
  take: "Take a photo",
  another: "Another photo",
  cost: "Uses about 0.1 MB, once.",
  wait: "Making the photo small …",
  shows: "With a photo nobody has to come and look.",
  noCamera: "My camera does not work",
  looked: "I looked myself: that counts as your word.",
  tryCamera: "Try the camera again",
  unreadable: "This phone cannot open the picture. Take another one with its camera.",
  remove: "Remove the photo",
  removeVoice: "Remove the voice note",
  place: "Say where it was taken",
  placeHint: "The photo knows its place. It stays on this phone unless you agree.",
  record: "Speak instead of writing",
  stop: (left: number) =>
    `Stop (${plural(left, { one: "1 second left", other: `${number(left)} seconds left` })})`,
  play: "Listen before it is sent",
  noMicrophone: "The microphone cannot be used. Allow it in the settings of the phone, or write.",
  ask: "Photos and voice notes cost data. Over which network may they go?",
  any: "Any network",
  wifi: "Wi-Fi only",
  network: "Photos and voice notes go over",
  onWifi: "I am on Wi-Fi now: send",
  title: "Photos and voice notes",
  held: {
    words: "They go after your entries.",
    no: "They wait for Wi-Fi.",
    ask: "They wait for Wi-Fi. This phone does not tell us whether it is on Wi-Fi.",
    chosen: "Choose below over which network they may go.",
  },
  waits: (n: number, bytes: number) =>
    `${plural(n, { one: "1 waits", other: `${number(n)} wait` })} on this phone: about ${mb(bytes)}, once.`,
  used: (bytes: number) => (bytes > 0 ? `Used this month: ${mb(bytes)}.` : "Nothing was used this month."),
  state: {
    kept: "on this phone",
    sending: (share: number) => `sending, ${number(share)} %`,
    sent: "sent",
    "needs-you": "needs you",
  },
  again: "Send again",
  discard: "Throw away",
  why: {
    "media-type": "It is no photo or voice note that we can open.",
    "media-unreadable": "It is damaged. Take it once more.",
    "media-pixels": "It is too large. Take it once more.",
    "media-too-large": "It is too large. Take it once more.",
    "media-many": "The entry has eight already.",
    "media-hash": "It changed on the way. Send it again.",
    "media-scanned": "Our check does not let it in. Tell us.",
    "entry-not-found": "Its entry is not yours. Tell us.",
    "farm-not-found": "You do not work on this farm any more. Tell us if that is wrong.",
  } as Record<string, string>,
  refused: "Could not be taken:",

  open: (n: number, of: number) => (of > 1 ? `Open photo ${n} of ${of}` : "Open the photo"),
  coming: (n: number) =>
    plural(n, {
      one: "a photo or voice note is still to come",
      other: `${number(n)} photos or voice notes are still to come`,
    }),
  takenAt: (lat: number, lng: number) => `Taken at ${number(lat, 5)}, ${number(lng, 5)}`,
  broken: "It cannot be shown just now.",
};

export type MediaMessages = typeof en;
export default en;
