const en = {
  title: "Which farms need a visit",
};

export type ManagerMessages = typeof en;
export default en;
