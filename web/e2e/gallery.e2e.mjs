// Every component in a real browser: colours, targets, keys, print.
import { axe, check, must, open, serveFolder, shot } from "./harness.mjs";

export async function gallery() {
  const served = await serveFolder("gallery/dist");
  try {
    for (const reach of ["desk", "phone"]) {
      for (const theme of ["light", "dark"]) {
        for (const lang of ["en", "fr"]) await look(served.base, reach, theme, lang);
      }
    }
    await keys(served.base);
    await print(served.base);
  } finally {
    served.close();
  }
}

async function look(base, reach, theme, lang) {
  const name = `gallery-${reach}-${theme}-${lang}`;
  await check(`${name} is accessible and raises no error`, async () => {
    // Tall, so that no row is cut at the edge of what scrolls.
    const { page, context, troubles } = await open(reach, {
      viewport: { width: reach === "desk" ? 1366 : 360, height: 6000 },
    });
    await page.goto(`${base}/?reach=${reach}&theme=${theme}&lang=${lang}`);
    await page.getByRole("heading", { level: 1 }).waitFor();
    await axe(page, name);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    await shot(page, name, { fullPage: true });
    must(wide <= 0, `the page is ${wide} px wider than the screen`);
    must(troubles.length === 0, troubles.join("\n"));
    await context.close();
  });
}

async function keys(base) {
  await check("keys: F1 lists them, one can be changed, the old one is free", async () => {
    const { page, context } = await open("desk");
    await page.goto(base);
    await page.getByRole("heading", { level: 1 }).waitFor();
    await page.keyboard.press("F1");
    const help = page.getByRole("dialog", { name: "Keys" });
    await help.getByRole("button", { name: "Change the key for: Open the dialog" }).click();
    await page.keyboard.press("Escape");
    must(await help.isVisible(), "Escape while asking for a key must keep the list open");
    await help.getByRole("button", { name: "Change the key for: Open the dialog" }).click();
    await page.keyboard.press("o");
    await page.keyboard.press("Escape");
    await help.waitFor({ state: "hidden" });
    await page.keyboard.press("F2");
    must(!(await page.getByText("How was it settled?").isVisible()), "the old key still works");
    await page.keyboard.press("o");
    await page.getByText("How was it settled?").waitFor();
    await page.keyboard.press("Escape");
    await page.getByText("How was it settled?").waitFor({ state: "hidden" });
    await context.close();
  });
  await check("keys: the skip link comes first and leads to the page", async () => {
    const { page, context } = await open("desk");
    await page.goto(base);
    await page.getByRole("heading", { level: 1 }).waitFor();
    await page.keyboard.press("Tab");
    must(
      (await page.evaluate(() => document.activeElement?.className)) === "skip",
      "the first Tab is not on the skip link",
    );
    await page.keyboard.press("Enter");
    must(
      (await page.evaluate(() => document.activeElement?.id)) === "main",
      "the skip link does not lead to main",
    );
    await context.close();
  });
}

async function print(base) {
  await check("print: black on white, nothing to press", async () => {
    const { page, context } = await open("desk");
    await page.goto(`${base}/?theme=dark`);
    await page.getByRole("heading", { level: 1 }).waitFor();
    await page.emulateMedia({ media: "print" });
    const seen = await page.evaluate(() => ({
      ground: getComputedStyle(document.documentElement).backgroundColor,
      ink: getComputedStyle(document.documentElement).color,
      buttons: [...document.querySelectorAll("button")].filter((b) => b.offsetParent !== null).length,
    }));
    await shot(page, "gallery-print", { fullPage: true });
    must(seen.ground === "rgb(255, 255, 255)" && seen.ink === "rgb(0, 0, 0)", JSON.stringify(seen));
    must(seen.buttons === 0, `${seen.buttons} buttons would be printed`);
    await context.close();
  });
}
