const en = {
  title: "Tickets",
};

export type DeskMessages = typeof en;
export default en;
