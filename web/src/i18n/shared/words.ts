import { language } from "../language";
import en, { type SharedMessages } from "./en";
import fr from "./fr";

const words: Record<string, SharedMessages> = { en, fr };

/** shared gives the words that every screen needs, in the language spoken now; they never have to be loaded. */
export function shared(): SharedMessages {
  return words[language.value] ?? en;
}
