import type { ManagerMessages } from "./en";

const fr: ManagerMessages = {
  title: "Quelles fermes ont besoin d’une visite",
};

export default fr;
