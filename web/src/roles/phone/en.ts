const en = {
  title: "Today",
};

export type PhoneMessages = typeof en;
export default en;
