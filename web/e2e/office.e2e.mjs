// The office on a house with invented farms: a messy spreadsheet is read, rows
// are judged in words, the good ones written; people are let in by a code that
// is read out; branches keep their days off.
import { axe, check, must, open, shot } from "./harness.mjs";
import { messy } from "./seed/messy.mjs";
import { closed, enter, everyLook, leaveAll, noTrouble } from "./session.mjs";

const pages = [
  ["register", "/office", "Read your register", "Lire votre registre"],
  ["people", "/office/people", "People", "Personnes"],
  ["branches", "/office/branches", "Branches", "Agences"],
];

export async function office(house) {
  await check("office: a messy register is tried, judged row by row, written, and the same again", () =>
    register(house),
  );
  await check("office: a manager gets from the farms to confirm to the register and back", () =>
    there(house),
  );
  await check("office: a file that is no register is explained", () => noRegister(house));
  await check("office: a person is added and let in by a code that is read out", () => person(house));
  await check("office: a branch is added, corrected, and given a day off", () => branches(house));
  await everyLook("office", async (size, colorScheme, lang) => {
    const { page, troubles } = await enter(house, "administrator", size, { colorScheme });
    return { page, troubles, views: pages.map((view) => look(house, page, view, lang)) };
  });
  await leaveAll();
}

function look(house, page, [name, path, english, french], lang) {
  return {
    name,
    go: async () => {
      await page.goto(house.base + path);
      if (name === "register") await tryFile(page);
    },
    there: () =>
      page.getByRole("heading", { name: lang === "Français" ? french : english, level: 1 }).waitFor(),
  };
}

async function tryFile(page, content = messy(), name = "farms.csv") {
  await page
    .locator("input[type=file]")
    .setInputFiles({ name, mimeType: "text/csv", buffer: Buffer.from(content) });
  await page.locator("form button[type=submit]").click();
  await page.locator("main .counts, main [role=alert]").first().waitFor();
}

/** rowText is what stands beside the number of a row. */
const rowText = async (page, row) =>
  (await page.getByRole("row", { name: new RegExp(`^${row}\\b`) }).textContent()).replaceAll("\u00a0", " ");

async function register(house) {
  const { page, troubles } = await enter(house, "manager");
  await page.goto(`${house.base}/office`);
  await page.getByLabel(/^Country of phone numbers/).fill("cm");
  await tryFile(page);
  await page.getByRole("heading", { name: "7 rows read" }).waitFor();
  must(
    /refused.*“?31\/02\/2026/.test(await rowText(page, 7)),
    `a day that is none: ${await rowText(page, 7)}`,
  );
  const many = await rowText(page, 8);
  for (const word of ["Unité", "Filière", "ostrich", "Largeur", "-3"])
    must(many.includes(word), `${word}: ${many}`);
  must(/new.*To check.*900/.test(await rowText(page, 4)), "a flagged row is written all the same");
  await axe(page, "a dry run");
  await shot(page, "office-dry-run", { fullPage: true });
  await page.getByRole("button", { name: /^all 7/ }).click();
  await page.getByRole("row", { name: /^2 new/ }).waitFor();
  await page.getByRole("button", { name: /^refused 2/ }).click();
  await page.getByRole("row", { name: /^4 / }).waitFor({ state: "detached" });
  await page.getByRole("button", { name: "Write 5 rows" }).click();
  await page.getByText("5 rows are in the register.").waitFor();
  await shot(page, "office-written", { fullPage: true });
  await page.getByRole("link", { name: "Go to the farms to confirm" }).click();
  await page.getByRole("link", { name: "Clos des Palmes" }).waitFor();
  await page.goto(`${house.base}/office`);
  await page.getByLabel(/^Country of phone numbers/).fill("CM");
  await tryFile(page);
  await page.getByRole("button", { name: /^the same 5/ }).waitFor();
  await page.getByText("There is nothing to write").waitFor();
  noTrouble(troubles);
}

async function there(house) {
  const { page } = await enter(house, "manager");
  await page.goto(`${house.base}/manager/confirm`);
  await page.getByRole("link", { name: "Read a spreadsheet of farms" }).click();
  await page.getByRole("heading", { name: "Read your register" }).waitFor();
  await page.getByRole("link", { name: "Farms and visits" }).click();
  await page.getByRole("heading", { name: "Which farms need a visit" }).waitFor();
  await page.getByRole("navigation").getByRole("link", { name: "Office" }).waitFor();
}

async function noRegister(house) {
  const { page } = await enter(house, "administrator");
  await page.goto(`${house.base}/office`);
  await tryFile(page, "name,colour\nSnail,brown\n");
  await page
    .getByRole("alert")
    .getByText(/client, farm, unit, enterprise/)
    .waitFor();
  await axe(page, "no register");
}

async function person(house) {
  const { page } = await enter(house, "administrator");
  await page.goto(`${house.base}/office/people`);
  await page.getByRole("button", { name: "Add a person" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Name").fill("Fabrice Njie");
  await dialog.getByLabel(/^Phone/).fill("+237550009001");
  await dialog.getByLabel(/^Role\b/).selectOption({ label: "Field officer" });
  await dialog.getByLabel(/^Branch\b/).selectOption({ label: "Buea" });
  await dialog.getByRole("button", { name: "Add a role" }).click();
  await dialog.getByText("Field officer, Buea").waitFor();
  await axe(page, "add a person");
  await shot(page, "office-person");
  await dialog.getByRole("button", { name: "Save" }).click();
  await closed(page);
  await page.getByLabel(/^Find by name/).fill("fabrice");
  await page.getByRole("button", { name: "Let in: Fabrice Njie" }).click();
  await dialog.getByLabel("A code to read out").check();
  await dialog.getByRole("button", { name: "Make it" }).click();
  await dialog.getByText("Read this code out.").waitFor();
  const code = (await dialog.locator(".way-in-secret").textContent()).trim();
  await axe(page, "a code to read out");
  await shot(page, "office-code");
  await dialog.getByRole("button", { name: "Done" }).click();
  await closed(page);
  const phone = await open("phone");
  await phone.page.goto(`${house.base}/signin`);
  await phone.page.getByRole("link", { name: "I was given a code for this phone" }).click();
  await phone.page.getByLabel("The code that you were told").fill(code.toLowerCase());
  await phone.page.getByLabel("New PIN", { exact: true }).fill("246810");
  await phone.page.getByRole("button", { name: "Use this phone" }).click();
  await phone.page.waitForURL("**/round");
  await shot(phone.page, "office-let-in");
  await phone.context.close();
}

async function branches(house) {
  const { page } = await enter(house, "administrator");
  await page.goto(`${house.base}/office/branches`);
  await page.getByRole("button", { name: "Add a branch" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Name").fill("Limbe Road");
  await dialog.getByLabel("Time zone").fill("Limbe");
  await dialog.getByLabel(/^Country/).fill("CM");
  await dialog.getByRole("button", { name: "Save" }).click();
  await dialog.getByText("There is no such time zone.").waitFor();
  await dialog.getByLabel("Time zone").fill("Africa/Douala");
  await dialog.getByRole("button", { name: "Save" }).click();
  await closed(page);
  const branch = page.getByRole("region", { name: "Limbe Road" });
  await branch.getByRole("button", { name: "Add a day off" }).click();
  await dialog.getByLabel("What").fill("Road closed for the race");
  await dialog.getByRole("button", { name: "Save" }).click();
  await closed(page);
  await branch.getByText("Road closed for the race").waitFor();
  await branch.getByRole("button", { name: /^Take back/ }).click();
  await branch.getByText("Road closed for the race").waitFor({ state: "detached" });
}
