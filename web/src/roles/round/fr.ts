import type { RoundMessages } from "./en";

const fr: RoundMessages = {
  title: "Tournée du jour",
};

export default fr;
