// The daybook on paper, at the desk: a page is printed, and the filled page is
// typed in by keyboard alone, also where the answer is lost on the way.
import { axe, check, language, must, shot } from "./harness.mjs";
import { asStaff, entriesOf } from "./phone.e2e.mjs";
import { enter, everyLook, leaveAll, noSideways, noTrouble } from "./session.mjs";

export async function paper(house) {
  const staff = await asStaff(house, "manager");
  await check("paper: the page of a unit is printed in both languages", () => printed(house));
  await check("paper: two weeks are typed in by keyboard and saved once", () => typed(house, staff));
  await check("paper: what cannot be is said at its cell, what is unlikely is asked back", () =>
    doubted(house),
  );
  await everyLook("paper", async (size, colorScheme) => {
    const { page, troubles } = await enter(house, "manager", size, { colorScheme });
    const view = {
      name: "sheet",
      go: () => goTo(page, house, "Bassin du Quai"),
      there: () => page.locator("table.sheet").waitFor(),
    };
    return { page, troubles, views: [view] };
  });
  await leaveAll();
}

async function goTo(page, house, farm) {
  await page.goto(`${house.base}/manager/farms?q=${encodeURIComponent(farm)}`);
  await page.getByRole("link", { name: farm }).click();
  await page.locator("a.unit-paper").first().click();
  await page.locator("table.sheet").waitFor();
}

async function printed(house) {
  const { page, troubles } = await enter(house, "manager");
  await language(page, "English");
  await goTo(page, house, "Sandpit Corner");
  for (const [button, name] of [
    ["Print in English", "en"],
    ["Print in French", "fr"],
  ]) {
    const waiting = page.waitForEvent("download");
    await page.getByRole("button", { name: button }).click();
    const file = await waiting;
    must(/^daybook .*\.pdf$/.test(file.suggestedFilename()), file.suggestedFilename());
    const stream = await file.createReadStream();
    const [first] = await stream.take(1).toArray();
    must(String(first).startsWith("%PDF-"), `the page in ${name} is a PDF`);
  }
  noTrouble(troubles);
}

// As a clerk types: down one day with Enter, on to the next, and Ctrl+Enter.
async function typed(house, staff) {
  const { page } = await enter(house, "manager");
  await goTo(page, house, "Sandpit Corner");
  const at = (row, column) => page.locator(`[data-at="${row}:${column}"]`);
  await page.evaluate(() => window.scrollTo(0, document.body.scrollHeight));
  await at(1, 12).focus();
  await page.keyboard.type("0");
  await page.keyboard.press("ArrowRight");
  await page.keyboard.type("0");
  await page.keyboard.press("Enter");
  must(await at(2, 13).evaluate((e) => e === document.activeElement), "Enter goes down");
  await at(3, 13).focus();
  await page.keyboard.type("1,5");
  await axe(page, "a page half typed");
  await noSideways(page, "the page");
  await shot(page, "paper-typed");
  // The server keeps it, and the answer is lost: saved again, it is there once.
  await page.route("**/api/sync", async (route) => {
    await route.fetch();
    await route.abort();
  });
  await page.keyboard.press("Control+Enter");
  await page.getByRole("alert").waitFor();
  await page.unroute("**/api/sync");
  await page.getByRole("button", { name: "Save 2 days" }).click();
  await page.getByText("2 days saved.").waitFor();
  const id = new URL(page.url()).pathname.split("/")[2];
  const days = (await entriesOf(staff, { id }, "day")).filter((e) => e.data.source === "paper");
  must(days.length === 2, `two days are kept once, not ${days.length}`);
  must(
    days.every((e) => e.data.deaths === 0 && e.data.written_by),
    "a nought is a nought, and somebody wrote it",
  );
  must(days.filter((e) => "feed_kg" in e.data).length === 1, "what was left empty was not counted");
  await page.goto(`${house.base}/farms/${id}`);
  await page
    .locator(".timeline")
    .getByText(/from the paper page of/)
    .first()
    .waitFor();
}

async function doubted(house) {
  const { page } = await enter(house, "manager");
  await goTo(page, house, "Bassin du Quai");
  const deaths = page.locator('[data-at="1:13"]');
  await deaths.fill("2,5");
  await page.getByText("A count is a whole number.").waitFor();
  must((await deaths.getAttribute("aria-invalid")) === "true", "the cell says so");
  must(await page.getByRole("button", { name: "Save 1 day" }).isDisabled(), "it cannot be saved");
  await deaths.fill("400");
  await page.getByText("400: is that right?").waitFor();
  await axe(page, "a value asked back");
  await shot(page, "paper-asked-back");
  await page.getByRole("button", { name: /^It is right/ }).click();
  await page.getByRole("button", { name: "Save 1 day" }).click();
  await page.getByText("1 day saved.").waitFor();
}
