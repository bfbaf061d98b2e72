import type { MineMessages } from "./en";

const fr: MineMessages = {
  title: "Mes fermes",
};

export default fr;
