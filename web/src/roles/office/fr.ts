import type { OfficeMessages } from "./en";

const fr: OfficeMessages = {
  title: "Personnes et agences",
};

export default fr;
