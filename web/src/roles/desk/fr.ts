import type { DeskMessages } from "./en";

const fr: DeskMessages = {
  title: "Dossiers",
};

export default fr;
