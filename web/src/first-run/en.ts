/** The words of the page that sets a house up. */
const en = {
  title: "Set up Tendfold",
  intro: "Once, for the whole firm. Everything can be changed later.",
  firm: "Your firm",
  name: "Name of the firm",
  language: "Language the firm writes in",
  zone: "Time zone",
  zoneHint: "As in Africa/Douala.",
  currency: "Currency",
  currencyHint: "Three letters, as in XAF.",
  branch: "First branch",
  branchName: "Name of the branch",
  country: "Country",
  countryHint: "Two letters, as in CM. Its public holidays come with it.",
  admin: "First administrator",
  adminName: "Name",
  login: "E-mail",
  go: "Set up",
  wrong: {
    name: "Give a name of at most 200 characters.",
    time_zone: "There is no such time zone. Write it as in Africa/Douala.",
    currency: "There is no such currency. Write its three letters, as in XAF.",
    country: "There is no such country. Write its two letters, as in CM.",
    email: "This is not an e-mail address.",
  },
  done: "Tendfold is set up. Next: bring in your register.",
  problems: {
    "firm-refused": "The firm cannot be kept like this. See the marked fields.",
    "branch-refused": "The branch cannot be kept like this. See the marked fields.",
    "person-refused": "The administrator cannot be kept like this. See the marked fields.",
    "set-up-already": "This firm is set up already. Sign in, or ask the administrator for a way in.",
  } as Record<string, string>,
};

export type FirstRunMessages = typeof en;
export default en;
