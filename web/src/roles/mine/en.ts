const en = {
  title: "My farms",
};

export type MineMessages = typeof en;
export default en;
