// The film strip: one caretaker's day without a network, picture by picture,
// and the same entries on the advisor's farm page once they have come. It is
// written to e2e/film, with an index.html, for a person to look at.
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { check, must } from "./harness.mjs";
import { broughtAhead } from "./learn.e2e.mjs";
import { arrived, asStaff, cached, caretaker, enrolled, sent, tap, unlock } from "./phone.e2e.mjs";
import { enter, leaveAll } from "./session.mjs";

const folder = join(import.meta.dirname, "film");

/** reel takes pictures with a line of words each, and writes them down as a page. */
function reel() {
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  const frames = [];
  return {
    async take(page, words, options = {}) {
      const name = `${String(frames.length + 1).padStart(2, "0")}.png`;
      await page.screenshot({ path: join(folder, name), ...options });
      frames.push({ name, words, wide: (page.viewportSize()?.width ?? 0) > 800 });
    },
    finish() {
      const figures = frames.map(
        ({ name, words, wide }) =>
          `<figure${wide ? ' class="wide"' : ""}><a href="${name}"><img src="${name}" alt="${words}"></a><figcaption>${words}</figcaption></figure>`,
      );
      writeFileSync(join(folder, "index.html"), pageOf(figures));
      return frames.length;
    },
  };
}

const pageOf = (figures) => `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>A caretaker's day without a network</title>
<style>
  body { margin: 1rem; font: 1rem/1.4 system-ui, sans-serif; background: #f4f1e8; color: #1f2a2a; }
  main { display: flex; flex-wrap: wrap; gap: 1.5rem; align-items: flex-start; }
  figure { margin: 0; width: 270px; }
  figure.wide { width: 820px; max-width: 100%; }
  img { width: 100%; border: 1px solid #556; }
</style>
<h1>A caretaker’s day without a network, and what the advisor reads of it</h1>
<main>
${figures.join("\n")}
</main>
</html>
`;

/** film makes the strip in a house. */
export async function film(house) {
  const staff = await asStaff(house, "manager");
  const who = await caretaker(staff, "Hillside");
  await check("film: a day without a network, and the same entries on the farm page", async () => {
    const strip = reel();
    const { page, context } = await enrolled(house, who);
    await cached(page);
    await broughtAhead(page);
    await page.evaluate(() => localStorage.setItem("tendfold.media", "any"));
    await context.setOffline(true);
    await offlineDay(page, house, strip);
    await context.setOffline(false);
    await sent(page);
    const days = await arrived(staff, who.farm, "day", 1);
    const troubles = await arrived(staff, who.farm, "trouble", 1);
    must(days.length === 1 && troubles.length === 1, "the day must have come");
    await photoCame(staff, who);
    await page.goto(`${house.base}/today/sent`);
    await unlock(page);
    await page.locator("#sent-media ~ ul .entry-state").first().waitFor();
    await strip.take(page, "With a network again: all has gone, the words first, then the photo.");
    await context.close();
    await farmPage(house, who, strip);
    must(strip.finish() >= 12, "a picture is missing");
    await leaveAll();
  });
}

async function photoCame(staff, who) {
  for (const until = Date.now() + 30_000; ; ) {
    const [day] = await arrived(staff, who.farm, "day", 1);
    if (day.media?.some((m) => m.state === "kept")) return;
    must(Date.now() < until, "the photo must have come");
  }
}

async function offlineDay(page, house, strip) {
  const to = async (path) => {
    await page.evaluate((address) => {
      history.pushState(null, "", address);
      dispatchEvent(new PopStateEvent("popstate"));
    }, path);
    await page.locator("main h1").waitFor();
  };
  await page.goto(`${house.base}/today`);
  await page.locator("form input").waitFor();
  await strip.take(page, "In the morning: no network. The PIN opens the phone.");
  await unlock(page);
  await page.locator(".phone-age").waitFor();
  await strip.take(page, "The day, worked out by the firm and shipped ahead.");
  await to("/today/daybook");
  await page.getByLabel(/^Dead/).fill("31");
  await page.getByLabel(/^Feed given/).fill("2");
  await page.locator(".attach input[type=file]").setInputFiles({
    name: "IMG.jpg",
    mimeType: "image/jpeg",
    buffer: await photo(page),
  });
  await page.locator(".attach-taken img").waitFor();
  await strip.take(page, "The daybook: empty is not zero.");
  await tap(page, "Keep");
  await page
    .getByText(/Dead.*31/)
    .first()
    .waitFor();
  await strip.take(page, "31 deaths in one day: is that right?");
  await tap(page, "Yes, it is right");
  await page.waitForURL("**/today");
  await sent(page, "1 entry kept on this phone");
  await strip.take(page, "Kept on the phone, and said so.");
  await to("/today/trouble");
  await strip.take(page, "Trouble is reported by its picture.");
  await page.locator("main button.phone-row").last().click();
  await page.getByText(/NOT SENT/).waitFor();
  await strip.take(page, "What to do now, before anything is sent.");
  await to("/today/modules");
  await strip.take(page, "What there is to learn.");
  const module = await page.locator("main a[href^='/today/module/']").first().getAttribute("href");
  await to(`${module}/card/1`);
  await page.locator(".lesson-progress").waitFor();
  await strip.take(page, "A card of a module, drawing and words.");
  await to("/today/help");
  await tap(page, /Call me back/);
  await sent(page, "3 entries kept on this phone");
  await strip.take(page, "A wish to be called back waits with the rest.");
  await to("/today/sent");
  await strip.take(page, "What waits, and what sending it will cost.");
  await to("/today");
}

const photo = async (page) =>
  Buffer.from(
    await page.evaluate(async () => {
      const canvas = Object.assign(document.createElement("canvas"), { width: 1600, height: 1200 });
      const pen = canvas.getContext("2d");
      pen.fillStyle = "#6b4f36";
      pen.fillRect(0, 0, 1600, 1200);
      for (let i = 0; i < 31; i++) {
        pen.fillStyle = i % 2 ? "#c9a66b" : "#8a6a45";
        pen.beginPath();
        pen.ellipse(150 + ((i * 379) % 1300), 150 + ((i * 211) % 900), 70, 45, i, 0, 7);
        pen.fill();
      }
      const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.9));
      return [...new Uint8Array(await blob.arrayBuffer())];
    }),
  );

async function farmPage(house, who, strip) {
  const { page } = await enter(house, "advisor");
  await page.goto(`${house.base}/farms/${who.farm.id}`);
  await page.locator("#timeline .media-open img").first().waitFor();
  await page.waitForLoadState("networkidle");
  await strip.take(page, "The advisor’s farm page.");
  await page.locator("#timeline").scrollIntoViewIfNeeded();
  await page.evaluate(() => document.querySelector("#timeline").scrollIntoView());
  await strip.take(page, "The same entries, with the photo, in the farm’s history.");
}
