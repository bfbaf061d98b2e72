const en = {
  title: "Today’s round",
};

export type RoundMessages = typeof en;
export default en;
