// What the caretaker's pages bring later, in one file: the first load stays
// small.
export { Attach } from "./attach";
export { start } from "./send";
export { SentMedia } from "./sent";
export { mediaWords } from "./words";
