// The first run on an empty database: whoever comes first sets the firm up, is
// signed in by it, and is led to the import.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { axe, check, language, must, open, shot, startServer } from "./harness.mjs";
import { noSideways, noTrouble } from "./session.mjs";

/** inEmpty runs a test on a server whose database has nothing in it. */
async function inEmpty(binary, test) {
  const folder = mkdtempSync(join(tmpdir(), "tendfold-first-"));
  const server = await startServer(binary, ["serve", "--db", join(folder, "data"), "--addr", "127.0.0.1:0"]);
  try {
    await test(server.base);
  } finally {
    await server.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

export async function firstRun(binary) {
  await check("first run: an empty house is set up in one page and offers the import", () =>
    inEmpty(binary, setUp),
  );
  await check("first run: it is accessible in both languages and sizes, with refusals at their fields", () =>
    inEmpty(binary, looks),
  );
}

async function arrive(base, size, options) {
  const opened = await open(size, options);
  await opened.page.goto(base);
  await opened.page.waitForURL("**/first-run");
  await opened.page.getByRole("heading", { name: "Set up Tendfold" }).waitFor();
  return opened;
}

async function fill(page, answers) {
  for (const [label, value] of Object.entries(answers)) {
    await page.getByLabel(label, { exact: true }).fill(value);
  }
}

const firm = { "Name of the firm": "Palmwalk Farm Builders", "Time zone": "Africa/Douala", Currency: "XAF" };
const branch = { "Name of the branch": "Buea", Country: "CM" };
const admin = {
  Name: "Ruth Fomba",
  "E-mail": "ruth@palmwalk.example",
  "New password": "seven brown snails walk",
};

async function setUp(base) {
  const { page, context, troubles } = await arrive(base, "desk");
  await fill(page, { ...firm, ...branch, ...admin });
  await page.getByRole("button", { name: "Set up" }).click();
  await page.getByRole("heading", { name: "Read your register" }).waitFor();
  must(new URL(page.url()).pathname === "/office", "the import is offered");
  await axe(page, "the office of an empty house");
  await page.getByRole("link", { name: "Branches" }).click();
  await page.getByRole("region", { name: "Buea" }).getByText("Africa/Douala, CM").waitFor();
  await page.getByRole("link", { name: "People" }).click();
  await page
    .getByRole("row", { name: /Ruth Fomba/ })
    .getByText("Administrator, all branches")
    .waitFor();
  noTrouble(troubles);
  await context.close();
  const late = await open("desk");
  await late.page.goto(base);
  await late.page.waitForURL("**/signin");
  await late.page.goto(`${base}/first-run`);
  await fill(late.page, { ...firm, ...branch, ...admin });
  await late.page.getByRole("button", { name: "Set up" }).click();
  await late.page.getByText("This firm is set up already.").waitFor();
  await late.context.close();
}

async function looks(base) {
  for (const [size, colorScheme] of [
    ["desk", "light"],
    ["phone", "dark"],
  ]) {
    const { page, context } = await arrive(base, size, { colorScheme });
    await fill(page, { ...firm, ...branch, ...admin, "Time zone": "Buea", Currency: "ABC" });
    await page.getByRole("button", { name: "Set up" }).click();
    await page.getByText("There is no such time zone.").waitFor();
    await page.getByText("There is no such currency.").waitFor();
    for (const lang of ["English", "Français"]) {
      await language(page, lang);
      await page.getByText(lang === "English" ? "Your firm" : "Votre cabinet").waitFor();
      const name = `first-run-${size}-${colorScheme}-${lang.slice(0, 2).toLowerCase()}`;
      await shot(page, name, { fullPage: true });
      await axe(page, name);
      await noSideways(page, name);
    }
    must(
      (await page.getByText("Ce fuseau horaire n’existe pas.").count()) === 1,
      "refusals speak French too",
    );
    await context.close();
  }
}
