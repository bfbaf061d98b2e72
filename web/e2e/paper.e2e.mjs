// The daybook on paper, at the desk: a page is printed, and the filled page is
// typed in by keyboard alone, also where the answer is lost on the way.
import { axe, check, language, must, shot } from "./harness.mjs";
import {
  arrived,
  asStaff,
  cached,
  caretaker,
  enrolled,
  entriesOf,
  sent,
  small,
  unlock,
} from "./phone.e2e.mjs";
import { enter, everyLook, leaveAll, noSideways, noTrouble } from "./session.mjs";

export async function paper(house) {
  const staff = await asStaff(house, "manager");
  await check("paper: the page of a unit is printed in both languages", () => printed(house));
  await check("paper: two weeks are typed in by keyboard and saved once", () => typed(house, staff));
  await check("paper: what cannot be is said at its cell, what is unlikely is asked back", () =>
    doubted(house),
  );
  await check("paper: the questions of a module are asked aloud, and kept with who asked", () =>
    aloud(house, staff),
  );
  await check("paper: what the desk asks is answered on the phone without a network", () =>
    asked(house, staff),
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
  await page.locator("a[href*='/daybook/']").first().click();
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

async function aloud(house, staff) {
  const { farm } = await caretaker(staff, "Lower Ridge");
  const { page } = await enter(house, "manager");
  await page.goto(`${house.base}/farms/${farm.id}`);
  await page
    .getByRole("link", { name: /^Ask the questions aloud/ })
    .first()
    .click();
  await page.getByText(/^Question 1 of/).waitFor();
  await axe(page, "a question asked aloud");
  await shot(page, "paper-aloud");
  const [keep, none] = ["Keep the answers", "No answer"].map((name) => page.getByRole("button", { name }));
  while (!(await keep.count())) await none.click();
  await keep.click();
  await page.getByRole("heading", { name: /^(Passed the questions|Not passed yet)$/ }).waitFor();
  await axe(page, "what came of it");
  const kept = await entriesOf(staff, farm, "answers");
  must(kept.length === 1 && kept[0].data.person_id, "the round is kept once, with who answered");
}

async function asked(house, staff) {
  const who = await caretaker(staff, "Sandpit Corner");
  const { page: desk } = await enter(house, "manager");
  await desk.goto(`${house.base}/farms/${who.farm.id}`);
  await desk.getByRole("button", { name: "Ask the farm to do something" }).click();
  await desk.getByLabel("What is to be done?").fill("Close the gap under the door");
  await axe(desk, "asking a farm");
  await desk.getByRole("button", { name: "Save" }).click();
  await desk.locator("#requests").getByText("Close the gap under the door").waitFor();

  const { page, context } = await enrolled(house, who);
  await cached(page);
  await page.getByRole("link", { name: /Close the gap under the door/ }).waitFor();
  await context.setOffline(true);
  await page.goto(`${house.base}/today`);
  await unlock(page);
  await page.getByRole("link", { name: /Close the gap under the door/ }).click();
  await page.getByRole("heading", { level: 1, name: "We ask you to do this" }).waitFor();
  await axe(page, "what the firm asks");
  must((await small(page)).length === 0, "targets are large enough");
  await shot(page, "phone-asked");
  await page.getByLabel(/^A few words/).fill("With mesh");
  await page.getByRole("button", { name: "Done", exact: true }).click();
  await page.waitForURL("**/today");
  must((await page.getByRole("link", { name: /Close the gap/ }).count()) === 0, "it is no longer asked for");
  await context.setOffline(false);
  await sent(page);
  must((await arrived(staff, who.farm, "request", 1)).length === 1, "the answer is kept once");
  await desk.reload();
  await desk
    .locator("#requests")
    .getByText(/done by .* With mesh/)
    .waitFor();
  await context.close();
}
