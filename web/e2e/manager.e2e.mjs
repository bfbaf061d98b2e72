// The manager's pages on a house with invented farms: who needs a visit, who
// goes where, how farms stand, which wait to be confirmed, and the load.
import { axe, check, must, shot } from "./harness.mjs";
import { closed, enter, everyLook, leaveAll, noTrouble, today } from "./session.mjs";

const pages = [
  ["needs", "/manager", "Which farms need a visit", "Quelles fermes ont besoin d’une visite"],
  ["visits", "/manager/visits", "Visits planned", "Visites prévues"],
  ["farms", "/manager/farms", "Farms by standing", "Fermes par situation"],
  ["confirm", "/manager/confirm", "Farms to confirm", "Fermes à confirmer"],
  ["load", "/manager/load", "Load", "Charge"],
];

export async function manager(house) {
  await check("manager: the first page is the list of farms that need a visit, beside the map", () =>
    first(house),
  );
  await check("manager: the list is walked and a visit planned by keys", () => byKeys(house));
  await check("manager: a visit is done with findings, and what it dealt with loses its points", () =>
    done(house),
  );
  await check("manager: a visit is missed with a reason", () => missed(house));
  await check("manager: two people at one visit: the second reads again", () => conflict(house));
  await check("manager: farms are counted, searched and filtered, and the address keeps it", () =>
    farms(house),
  );
  await check("manager: farms are watched, one and many", () => confirm(house));
  await check("manager: the load has its table beside the chart", () => load(house));
  await everyLook("manager", async (size, colorScheme, lang) => {
    const { page, troubles } = await enter(house, "manager", size, { colorScheme });
    return { page, troubles, views: pages.map((view) => look(house, page, view, lang)) };
  });
  await leaveAll();
}

async function first(house) {
  const { page, troubles } = await enter(house, "manager");
  await page.goto(house.base);
  await page.waitForURL("**/manager");
  await page.getByRole("heading", { name: "Which farms need a visit", level: 1 }).waitFor();
  const rows = page.locator(".need");
  await rows.first().waitFor();
  must(
    (await rows.first().locator(".need-points").textContent()) === "must go",
    "what must be gone to stands first",
  );
  const points = await page.locator("section").last().locator(".need-points").allTextContents();
  const numbers = points.map((p) => Number.parseFloat(p));
  must(
    numbers.every((n, i) => i === 0 || n <= numbers[i - 1]),
    `points fall down the list: ${points}`,
  );
  must((await page.locator(".map-point").count()) > 5, "farms with a position stand on the map");
  const off = await page.locator(".off-map li").allTextContents();
  must(
    off.some((t) => t.includes("Kilomètre Huit, Loum")),
    `without one by town: ${off}`,
  );
  await rows.nth(2).getByText("Why not higher").click();
  await rows.first().getByText("What to do there").click();
  must((await rows.first().locator(".agenda li").count()) > 1, "the agenda is made from the reasons");
  await shot(page, "manager-needs-open");
  noTrouble(troubles);
}

async function byKeys(house) {
  const { page } = await enter(house, "manager");
  await page.goto(`${house.base}/manager`);
  await page.locator(".need").first().waitFor();
  await page.keyboard.press("j");
  await page.keyboard.press("j");
  const farm = await page.evaluate(() => document.activeElement?.textContent);
  must(farm === (await page.locator(".need-farm").nth(1).textContent()), `the focus walks: ${farm}`);
  await page.keyboard.press("v");
  const dialog = page.getByRole("dialog");
  await dialog.waitFor();
  await dialog.getByRole("button", { name: "Plan a visit" }).click();
  await dialog.getByText("Fill this in.").waitFor();
  await axe(page, "plan a visit");
  await dialog.getByLabel("Who goes?").selectOption({ label: "Tende Ojong" });
  await dialog.getByText("Tende Ojong has no other visit").waitFor();
  await dialog.getByRole("button", { name: "Plan a visit" }).click();
  await closed(page);
  await page.locator(".need", { hasText: farm }).getByText("Tende Ojong goes on").waitFor();
}

/** plan plans a visit to a farm for somebody on a day, through the API as the page does. */
async function plan(page, farm, officer, day) {
  await page.goto(`${new URL(page.url()).origin}/manager`);
  await page.getByRole("button", { name: `Plan a visit: ${farm}` }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Who goes?").selectOption({ label: officer });
  if (day) await dialog.getByLabel("Which day?").fill(day);
  await dialog.getByRole("button", { name: "Plan a visit" }).click();
  await closed(page);
}

async function done(house) {
  const { page } = await enter(house, "manager");
  await page.goto(`${house.base}/manager`);
  await page.locator(".need").first().waitFor();
  await plan(page, "Market Pond", "Solange Mbah", today());
  await page.goto(`${house.base}/manager/visits`);
  await page.getByRole("button", { name: /Mark as done: Market Pond/ }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("What was found?").fill("Counted 1,310 fish; the larger ones were sorted out.");
  await dialog
    .getByText(/twice the interval of/)
    .first()
    .click();
  await dialog
    .getByText(/^Behind: /)
    .first()
    .click();
  await axe(page, "finish a visit");
  await shot(page, "manager-visit-done");
  await dialog.getByRole("button", { name: "Visit done" }).click();
  await closed(page);
  await page.getByRole("button", { name: "Show the last four weeks" }).click();
  await page.getByText("Counted 1,310 fish").waitFor();
  await page.goto(`${house.base}/manager`);
  const row = page.locator(".need", { hasText: "Market Pond" });
  await row.waitFor();
  must((await row.getByText(/twice the interval/).count()) === 0, "what was dealt with is gone");
  must((await row.getByText(/^Behind: /).count()) === 0, "and so are its points");
}

async function missed(house) {
  const { page } = await enter(house, "manager");
  await page.goto(`${house.base}/manager`);
  await page.locator(".need").first().waitFor();
  await plan(page, "Hillside", "Solange Mbah", today());
  await page.goto(`${house.base}/manager/visits`);
  await page.getByRole("button", { name: /Mark as missed: Hillside/ }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("button", { name: "Visit missed" }).click();
  await dialog.getByText("Fill this in.").waitFor();
  await dialog.getByLabel("Why not?").fill("The road was under water.");
  await dialog.getByRole("button", { name: "Visit missed" }).click();
  await closed(page);
  await page.getByRole("button", { name: "Show the last four weeks" }).click();
  await page.getByText("The road was under water.").waitFor();
}

async function conflict(house) {
  const one = await enter(house, "manager");
  await one.page.goto(`${house.base}/manager`);
  await one.page.locator(".need").first().waitFor();
  await plan(one.page, "Three Palms", "Tende Ojong");
  const two = await enter(house, "second");
  for (const { page } of [one, two]) {
    await page.goto(`${house.base}/manager/visits`);
    await page.getByRole("button", { name: /Mark as missed: Three Palms/ }).click();
    await page.getByLabel("Why not?").fill("Nobody was there.");
  }
  await one.page.getByRole("button", { name: "Visit missed" }).click();
  await closed(one.page);
  await two.page.getByRole("button", { name: "Visit missed" }).click();
  await two.page
    .getByRole("alert")
    .getByText(/Someone has changed this/)
    .waitFor();
  await axe(two.page, "a stale visit");
  await two.page.getByRole("button", { name: "Read again" }).click();
  await closed(two.page);
  await two.page.getByRole("button", { name: /Mark as missed: Three Palms/ }).waitFor({ state: "detached" });
}

async function farms(house) {
  const { page } = await enter(house, "manager");
  await page.goto(`${house.base}/manager/farms`);
  await page.locator(".line").first().waitFor();
  const standings = await page.locator(".line .marked").allTextContents();
  must(standings.indexOf("behind") === 0, `the worst stand first: ${standings}`);
  must((await page.locator(".line").first().locator("svg[role=img]").count()) > 0, "each has its strip");
  await page.getByLabel("Search").fill("kumbo");
  await page.waitForURL(/q=kumbo/);
  await page.getByText("1 farm shown").waitFor();
  await page.getByRole("button", { name: /on course/ }).click();
  await page.getByText("No farm fits these filters.").waitFor();
  await page.reload();
  must((await page.getByLabel("Search").inputValue()) === "kumbo", "the address keeps the search");
  await page.getByRole("button", { name: "Show all farms" }).click();
  await page.getByLabel("Enterprise").selectOption({ label: "Catfish" });
  await page.getByRole("link", { name: "Bassin du Quai" }).waitFor();
  await page.getByRole("link", { name: "Sandpit Corner" }).waitFor({ state: "detached" });
}

async function confirm(house) {
  const { page } = await enter(house, "manager");
  await page.goto(`${house.base}/manager/confirm`);
  await page.getByRole("link", { name: "Red Gate" }).waitFor();
  await page
    .locator(".confirm-line", { hasText: "Red Gate" })
    .getByText(/would open a ticket/)
    .first()
    .waitFor();
  await page.getByRole("button", { name: "Start watching School Road" }).click();
  await page.getByText("1 farm watched from now on.").waitFor();
  await page.getByRole("link", { name: "School Road" }).waitFor({ state: "detached" });
  await page.getByLabel("Choose all that are shown").check();
  await shot(page, "manager-confirm-chosen");
  await page.getByRole("button", { name: "Start watching 2 farms" }).click();
  await page.getByText("2 farms watched from now on.").waitFor();
  await page.getByText("No farm waits to be confirmed.").waitFor();
}

async function load(house) {
  const { page } = await enter(house, "manager");
  await page.goto(`${house.base}/manager/load`);
  const rules = page.getByRole("table", { name: "Shares of the rules" });
  await rules.waitFor();
  const shares = await rules.locator("tbody td:nth-child(3)").allTextContents();
  const sum = shares.reduce((total, t) => total + Number.parseFloat(t), 0);
  must(Math.abs(sum - 100) <= shares.length, `the shares add up: ${shares}`);
  await page.getByText("The same as a table").click();
  await page.getByRole("table", { name: "Tickets by day" }).waitFor();
  await page.getByLabel("From", { exact: true }).fill(today());
  await page.waitForURL(/from=/);
  await rules.waitFor();
}

function look(house, page, [name, path, english, french], lang) {
  return {
    name,
    go: () => page.goto(house.base + path),
    there: () =>
      page.getByRole("heading", { name: lang === "Français" ? french : english, level: 1 }).waitFor(),
  };
}
