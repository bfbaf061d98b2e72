const en = {
  title: "People and branches",
};

export type OfficeMessages = typeof en;
export default en;
