import type { PhoneMessages } from "./en";

const fr: PhoneMessages = {
  title: "Aujourd’hui",
};

export default fr;
