// A caretaker's day without a network, today and forty days on: what was
// shipped ahead is picked by the date, and what is said is kept.
import { axe, check, must, shot } from "./harness.mjs";
import { asStaff, cached, caretaker, enrolled, sent, sideways, small, unlock } from "./phone.e2e.mjs";

const words = {
  en: {
    todo: "To do today",
    dead: /^Dead/,
    keep: "Keep",
    yes: "Yes, it is right",
    old: /40\sdays ago/,
    kept: /kept on this phone/,
  },
  fr: {
    todo: "À faire aujourd’hui",
    dead: /^Morts/,
    keep: "Garder",
    yes: "Oui, c’est bien cela",
    old: /il y a 40/,
    kept: /gardée? sur ce téléphone|sur ce téléphone/,
  },
};

export async function day(house) {
  const staff = await asStaff(house, "manager");
  await fortyDaysOn(house, await caretaker(staff, "Lower Ridge"), "en");
  await fortyDaysOn(house, await caretaker(staff, "Bassin du Quai"), "fr");
}

async function fortyDaysOn(house, who, lang) {
  const say = words[lang];
  await check(`day ${lang}: forty days without a network the day is still right`, async () => {
    const { page, context } = await enrolled(house, who);
    await cached(page);
    await context.setOffline(true);
    await page.clock.setFixedTime(new Date(Date.now() + 40 * 86_400_000));
    await page.goto(`${house.base}/today`);
    await unlock(page);
    await page.getByRole("heading", { level: 2, name: say.todo }).waitFor();
    await page.locator(".phone-age").getByText(say.old).waitFor();
    must(
      (await page
        .locator(
          "main a[href^='/today/task/'], main a[href^='/today/weigh/'], main a[href^='/today/milestone/'], main a[href^='/today/reading/']",
        )
        .count()) > 0,
      "something is to be done",
    );
    await axe(page, `forty days on, ${lang}`);
    must((await small(page)).length === 0, "targets are large enough");
    await shot(page, `day-forty-${lang}`);
    await page.locator("main a[href='/today/daybook']").first().click();
    await page.getByLabel(say.dead).first().fill("1");
    await page.getByRole("button", { name: say.keep, exact: true }).click();
    await page.waitForURL("**/today");
    await sent(page, say.kept);
    await page.setViewportSize({ width: 320, height: 640 });
    must((await sideways(page)) <= 0, "nothing is cut at 320 px");
    const large = await page.addStyleTag({ content: ":root[data-reach] { --size: 36px; }" });
    must((await sideways(page)) <= 0, "nor with text twice as large");
    await large.evaluate((style) => style.remove());
    await context.close();
  });
}
