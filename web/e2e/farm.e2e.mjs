// The page of a farm, worked on by a manager: marking what was done, what a
// go-ahead lacks, readings, pauses, people, the build sheet, and its print.
import { axe, check, must, shot } from "./harness.mjs";
import { closed, enter, everyLook, leaveAll, noTrouble, today } from "./session.mjs";

/** goTo opens the page of a farm by its name in the list. */
async function goTo(page, house, farm) {
  await page.goto(`${house.base}/manager/farms?q=${encodeURIComponent(farm)}`);
  await page.getByRole("link", { name: farm }).click();
  await page.getByRole("heading", { name: farm, level: 1 }).waitFor();
  await page.locator(".step").first().waitFor();
}

async function onFarm(house, farm, who = "manager", size = "desk", options = {}) {
  const opened = await enter(house, who, size, options);
  await goTo(opened.page, house, farm);
  return opened;
}

export async function farm(house) {
  await check("farm: the page shows strip, sentence, claim, milestones and what the go-ahead lacks", () =>
    shown(house),
  );
  await check("farm: a milestone is marked with its date and evidence", () => mark(house));
  await check("farm: a go-ahead that does not hold says what is missing, and can be overruled", () =>
    refused(house),
  );
  await check("farm: checklist items are marked by answer and by value", () => items(house));
  await check("farm: plant cover and sample weights are noted, drawn and listed", () => readings(house));
  await check("farm: a long pause needs a second manager", () => pause(house));
  await check("farm: a practical check is entered with its tasks", () => modules(house));
  await check("farm: animals are stocked", () => stocking(house));
  await check("farm: a snag is noted and mended, a note stands in the timeline", () => snags(house));
  await check("farm: two people correct one build sheet: both versions stand side by side", () =>
    build(house),
  );
  await check("farm: it prints on A4 with everything open", () => print(house));
  await check("farm: an officer and an advisor work on the same page", () => others(house));
  await check("farm: an unknown farm is explained", () => unknown(house));
  await everyLook("farm", async (size, colorScheme) => {
    const { page, troubles } = await enter(house, "manager", size, { colorScheme });
    const views = ["Sandpit Corner", "Bassin du Quai"].map((farm) => ({
      name: farm.split(" ")[0].toLowerCase(),
      go: () => goTo(page, house, farm),
      there: () => page.getByRole("heading", { name: farm, level: 1 }).waitFor(),
    }));
    return { page, troubles, views };
  });
  await leaveAll();
}

async function shown(house) {
  const { page, troubles } = await onFarm(house, "Sandpit Corner");
  const strip = page.locator("figure.strip svg[role=img]").first();
  must(/Most likely/.test(await strip.getAttribute("aria-label")), "the strip reads as a sentence");
  await page.getByText(/^First harvest most likely on/).waitFor();
  const claim = page.getByRole("complementary", { name: "What the trade says" });
  must(/about twelve months/.test(await claim.textContent()), "the claim of the trade");
  must(/common practice, no source/.test(await claim.textContent()), "with what it rests on");
  await page.locator(".go-ahead summary").first().click();
  await page.getByText("No crack, hole or gap").first().waitFor();
  must((await page.locator(".ticket").count()) > 0, "its tickets");
  noTrouble(troubles);
}

async function mark(house) {
  const { page } = await onFarm(house, "Lower Ridge");
  await page.getByRole("button", { name: "Mark as done: Stock ordered" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("button", { name: "Yesterday" }).click();
  await dialog.getByLabel(/^word of the caretaker/).check();
  await axe(page, "mark a milestone");
  await shot(page, "farm-mark-milestone");
  await dialog.getByRole("button", { name: "Save" }).click();
  await closed(page);
  const step = page.locator(".step", { hasText: "Stock ordered" });
  await step.getByText("word of the caretaker").waitFor();
  await step.getByText("by Marthe Ndive").waitFor();
  await step.getByRole("button", { name: "Take back: Stock ordered" }).click();
  await dialog.getByRole("button", { name: "Save" }).click();
  await dialog.getByText("Fill this in.").waitFor();
  await dialog.getByLabel("Why was the mark wrong?").fill("It was another farm.");
  await dialog.getByRole("button", { name: "Save" }).click();
  await closed(page);
  await page.getByRole("button", { name: "Mark as done: Stock ordered" }).waitFor();
}

async function refused(house) {
  const { page } = await onFarm(house, "Old Coffee Store");
  await page.getByRole("button", { name: "Mark as done: Ready to stock" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("button", { name: "Save" }).click();
  await dialog.getByRole("alert").getByText("The go-ahead does not hold yet.").waitFor();
  must((await dialog.locator(".missing dd").count()) > 10, "everything that is missing is named");
  await axe(page, "a go-ahead that does not hold");
  await shot(page, "farm-go-ahead-refused");
  await dialog.getByLabel("Mark it anyway").check();
  await dialog.getByRole("button", { name: "Save" }).click();
  await closed(page);
  await page.locator(".timeline").getByText("Done without its go-ahead: Ready to stock").waitFor();
}

async function items(house) {
  const { page } = await onFarm(house, "Sandpit Corner");
  await page.locator(".checks summary", { hasText: "Handover" }).first().click();
  await page.getByRole("button", { name: /^Mark: The wall stands on a footing/ }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("What was measured?").fill("12,5 cm");
  await dialog.getByText(/is not a number/).waitFor();
  await dialog.getByLabel("What was measured?").fill("12,5");
  await dialog.getByRole("button", { name: "Save" }).click();
  await closed(page);
  const footing = page.locator(".check-line", { hasText: "The wall stands on a footing" });
  await footing.getByText(/no, 12\.5\scm/).waitFor();
  await page.getByRole("button", { name: /^Mark: Door and frame close/ }).click();
  await dialog.getByLabel("yes", { exact: true }).check();
  await dialog.getByLabel(/^word of the caretaker/).check();
  await dialog.getByRole("button", { name: "Save" }).click();
  await closed(page);
  const door = page.locator(".check-line", { hasText: "Door and frame close" });
  await door.getByText(/a photo or our own eyes are still needed/).waitFor();
  await axe(page, "an open checklist");
}

async function readings(house) {
  const { page } = await onFarm(house, "Behind the Mill");
  const dialog = page.getByRole("dialog");
  for (const [value, day] of [
    ["10", -6],
    ["25", -3],
    ["42", 0],
  ]) {
    await page.getByRole("button", { name: "Note the plant cover" }).click();
    await dialog.getByLabel("How much of the ground do plants cover?").fill(value);
    await dialog.getByLabel("Day").fill(daysFrom(day));
    await dialog.getByRole("button", { name: "Save" }).click();
    await closed(page);
  }
  const table = page.getByRole("table", { name: /Plant cover/ });
  await table.getByText(/42/).waitFor();
  must((await table.locator("tbody tr").count()) === 3, "three readings");
  must((await page.locator(".chart-dot").count()) === 3, "three dots");
  await page.getByRole("button", { name: "Note sample weights" }).click();
  await dialog.getByLabel("Weights one by one, in g").fill("32 35,5 x");
  await dialog.getByText("“x” is not a weight.").waitFor();
  await dialog.getByLabel("Weights one by one, in g").fill("32 35,5 30");
  await dialog.getByText(/3 weights, mean 32.5/).waitFor();
  await axe(page, "sample weights");
  await dialog.getByRole("button", { name: "Save" }).click();
  await closed(page);
  await page
    .getByRole("table", { name: /Mean weight/ })
    .getByText(/32.5/)
    .waitFor();
  await page.locator(".reading").first().scrollIntoViewIfNeeded();
  await shot(page, "farm-readings");
}

async function pause(house) {
  const { page } = await onFarm(house, "Hillside");
  await page.getByRole("button", { name: "Pause the work" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Until").fill(daysFrom(40));
  await dialog.getByText("needs a second person").waitFor();
  await dialog.getByLabel("Why does the work stop?").fill("The road is closed by the rains.");
  await dialog.getByRole("button", { name: "Save" }).click();
  await closed(page);
  await page.getByText(/counts 14 days/).waitFor();
  must(
    (await page.getByRole("button", { name: "Agree to it" }).count()) === 0,
    "nobody agrees with themselves",
  );
  const second = await onFarm(house, "Hillside", "second");
  await second.page.getByRole("button", { name: "Agree to it" }).click();
  await second.page.getByRole("button", { name: "I agree" }).click();
  await closed(second.page);
  await second.page.getByText(/a second person has agreed \(Abel Lyonga\)/).waitFor();
  await second.page.getByRole("button", { name: "End the pause" }).click();
  await second.page.getByRole("dialog").getByRole("button", { name: "Save" }).click();
  await closed(second.page);
  await second.page.getByText(/ended on/).waitFor();
}

async function modules(house) {
  const { page } = await onFarm(house, "Lower Ridge");
  const name = "Mark as passed: Watering and humidity, Ikome Mbella";
  await page.getByRole("button", { name }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("on a visit").check();
  for (const box of await dialog.getByRole("checkbox").all()) await box.check();
  await axe(page, "a practical check");
  await dialog.getByRole("button", { name: "Save" }).click();
  await closed(page);
  must((await page.getByRole("button", { name }).count()) === 1, "without the questions it is not passed");
}

async function stocking(house) {
  const { page } = await onFarm(house, "Bassin du Quai");
  const unit = page.getByRole("region", { name: "Tank A", exact: true });
  await unit.getByRole("button", { name: "Note a stocking" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("button", { name: "Save" }).click();
  await dialog.getByText("Fill this in.").waitFor();
  await dialog.getByLabel("Live animals put in").fill("400");
  await dialog.getByLabel("Mean weight").fill("9,5");
  await axe(page, "note a stocking");
  await dialog.getByRole("button", { name: "Save" }).click();
  await closed(page);
  await unit.getByText("That is more than the capacity of 900").waitFor();
}

async function snags(house) {
  const { page } = await onFarm(house, "Three Palms");
  const dialog = page.getByRole("dialog");
  await page.getByRole("button", { name: "Note a snag" }).click();
  await dialog.getByLabel("What is wrong with the build?").fill("The gutter drips over the door.");
  await dialog.getByRole("button", { name: "Save" }).click();
  await closed(page);
  await page.getByRole("button", { name: "Mark as mended: The gutter drips over the door." }).click();
  await dialog.getByRole("button", { name: "Save" }).click();
  await closed(page);
  await page
    .getByRole("region", { name: "Snags" })
    .getByText(/· mended/)
    .waitFor();
  await page.locator("h1").click();
  await page.keyboard.press("n");
  await dialog.getByLabel("What is worth keeping?").fill("The client asks for a second house.");
  await dialog.getByRole("button", { name: "Save" }).click();
  await closed(page);
  await page.locator(".timeline").getByText("The client asks for a second house.").waitFor();
}

async function build(house) {
  const one = await onFarm(house, "Sandpit Corner");
  const two = await onFarm(house, "Sandpit Corner", "second");
  for (const { page } of [one, two])
    await page.getByRole("button", { name: "Correct the build sheet" }).click();
  await one.page.getByRole("dialog").getByLabel("Capacity, as claimed").fill("650");
  await one.page.getByRole("dialog").getByRole("button", { name: "Save" }).click();
  await closed(one.page);
  await one.page.locator(".facts").getByText("650").waitFor();
  const dialog = two.page.getByRole("dialog");
  await dialog.getByLabel("Capacity, as claimed").fill("700");
  await dialog.getByRole("button", { name: "Save" }).click();
  await dialog.getByText(/What stands there now/).waitFor();
  const row = dialog.getByRole("row", { name: /Capacity/ });
  must(/700/.test(await row.textContent()) && /650/.test(await row.textContent()), "both versions");
  await axe(two.page, "two versions");
  await shot(two.page, "farm-two-versions");
  await dialog.getByRole("button", { name: "Keep mine and save" }).click();
  await closed(two.page);
  await two.page.locator(".facts").getByText("700").waitFor();
}

async function print(house) {
  const { page } = await onFarm(house, "Sandpit Corner");
  await page.emulateMedia({ media: "print" });
  const hidden = await page
    .locator(".topline, .button")
    .evaluateAll((all) => all.every((e) => getComputedStyle(e).display === "none"));
  must(hidden, "nothing to press on paper");
  await page.evaluate(() => window.dispatchEvent(new Event("beforeprint")));
  await page.locator(".go-ahead").getByText("No crack, hole or gap").waitFor();
  await shot(page, "farm-print", { fullPage: true });
  await page.evaluate(() => window.dispatchEvent(new Event("afterprint")));
  await page.emulateMedia({ media: null });
  await page.pdf({
    path: new URL("shots/farm-print.pdf", import.meta.url).pathname,
    preferCSSPageSize: true,
  });
}

async function others(house) {
  const { page } = await enter(house, "officer", "phone");
  const path = await farmPath(house);
  await page.goto(house.base + path);
  await page.locator(".step").first().waitFor();
  must(
    (await page.getByRole("button", { name: "Pause the work" }).count()) === 0,
    "pauses are the manager's",
  );
  must(
    (await page.getByRole("button", { name: /^Mark as done/ }).count()) > 0,
    "an officer marks milestones",
  );
  await shot(page, "farm-officer-phone");
}

async function farmPath(house) {
  const { page } = await onFarm(house, "Sandpit Corner");
  const path = new URL(page.url()).pathname;
  return path;
}

async function unknown(house) {
  const { page } = await enter(house, "manager");
  await page.goto(`${house.base}/farms/0192-none`);
  await page
    .getByRole("alert")
    .getByText(/not in your branches/)
    .waitFor();
  await axe(page, "an unknown farm");
}

function daysFrom(days) {
  const at = new Date(`${today()}T12:00:00Z`);
  return new Date(at.getTime() + days * 86_400_000).toISOString().slice(0, 10);
}
