import { formatsOf } from "../../../../i18n/format";

const { plural } = formatsOf("en");

/** The words of a triage card at the desk. */
export const card = {
  title: (sign: string) => `Card: ${sign}`,
  yes: "Yes",
  no: "No",
  unsure: "Not known",
  back: "One question back",
  answer: (measure: string) => `How many (${measure})`,
  next: "Take this answer",
  spoken: "Say it in",
  languages: { en: "English", fr: "French" },
  people: "People first",
  answered: (n: number) => plural(n, { one: "1 answer", other: `${n} answers` }),
  causes: "Causes",
  likelihoods: { likely: "likely", possible: "possible", "less-likely": "less likely" },
  now: "Now, within the hour",
  advice: "Then",
  cautions: "Cautions",
  estimate: "our estimate, not yet checked",
  go: {
    now: "Somebody goes there now, or the emergency service does.",
    today: "Somebody goes there today.",
    "this-week": "Somebody goes there this week.",
    "next-visit": "To look at on the next visit.",
    no: "Nobody has to go there.",
  } as Record<string, string>,
  tell: "The veterinary service must be told within 24 hours. The clock starts when you send this note.",
  jumped: "A person is in danger. This card comes first.",
  why: "Why do you see it differently from the card?",
  whyNeeded: "Say in a few words why you see it differently.",
  text: "Advice as a text message",
  pictureText: "Ask for a picture by text message",
  textSize: (parts: number, left: number) =>
    `${plural(parts, { one: "1 part", other: `${parts} parts` })}, room for ${left} more`,
  textOdd: (letters: string) => `These letters make it more than twice as dear: ${letters}`,
  textWithNote: "Send it by text message with this note, on its ticket",
  textOpen: "Open it in the text program",
  textGoes: "It is kept with this call.",
};
