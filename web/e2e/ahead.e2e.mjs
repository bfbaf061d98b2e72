// What lies ahead of a unit: the band with its table, what it rests on, and a
// what-if beside the plan.
import { axe, check, language, must, shot } from "./harness.mjs";
import { enter, everyLook, leaveAll, noTrouble } from "./session.mjs";

export async function ahead(house) {
  await check("ahead: a unit's projection has its band, its table and what it rests on", () => shown(house));
  await check("ahead: a what-if stands beside the plan", () => tried(house));
  await everyLook("ahead", async (size, colorScheme) => {
    const { page, troubles } = await enter(house, "manager", size, { colorScheme });
    const view = {
      name: "projection",
      go: () => goTo(page, house, "Sandpit Corner"),
      there: () => page.locator("main p").first().waitFor(),
    };
    return { page, troubles, views: [view] };
  });
  await leaveAll();
}

async function goTo(page, house, farm) {
  await page.goto(`${house.base}/manager/farms?q=${encodeURIComponent(farm)}`);
  await page.getByRole("link", { name: farm }).click();
  await page.locator("a.unit-ahead").first().click();
  await page.getByRole("heading", { level: 1, name: /What lies ahead: |Ce qui vient : / }).waitFor();
}

// stocked goes to a farm of the demo in which something lives.
async function stocked(page, house) {
  await page.goto(`${house.base}/manager/farms`);
  const links = page.locator("main a[href^='/farms/']");
  await links.first().waitFor();
  const names = await links.allTextContents();
  for (const name of names.slice(0, 12)) {
    await goTo(page, house, name.trim());
    await page.locator("main p").first().waitFor();
    if ((await page.locator("svg .fan-band").count()) > 0) return;
  }
  throw new Error(`nothing lives on any of ${names.slice(0, 12).join(", ")}`);
}

async function shown(house) {
  const { page, troubles } = await enter(house, "manager");
  await language(page, "English");
  await stocked(page, house);
  const text = await page.locator("main").textContent();
  must(/estimates under stated assumptions, not promises of income/.test(text), "the caution");
  await page.locator(".projection-how summary").click();
  await page.getByText("our estimate, not yet checked").first().waitFor();
  must((await page.locator("table").count()) >= 2, "tables beside the drawings");
  await axe(page, "projection");
  await shot(page, "ahead-projection");
  noTrouble(troubles);
}

async function tried(house) {
  const { page } = await enter(house, "manager");
  await language(page, "English");
  await stocked(page, house);
  const from = page.getByLabel(/^Sell from/);
  if ((await from.count()) === 0) return; // a tank has no what-if yet
  await from.fill("60");
  await page.getByRole("button", { name: "See what follows" }).click();
  await page.getByText("This is a what-if, not the plan.").waitFor();
  await axe(page, "projection what-if");
}
