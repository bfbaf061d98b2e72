// Values that can hardly be are asked back before they are kept, and a sample
// is weighed animal by animal, on a small screen and with large text.
import { axe, check, must, shot } from "./harness.mjs";
import { arrived, asStaff, caretaker, enrolled, sent, sideways, small, tap, unlock } from "./phone.e2e.mjs";

const words = {
  en: {
    dead: /^Dead/,
    keep: "Keep",
    ask: "Is that right?",
    unusual: /Dead: 31\. That is unusual\./,
    no: "No, I change it",
    yes: "Yes, it is right",
    cannot: /This cannot be/,
    sent: "All sent",
    animal: (n) => `Animal ${n} of 10`,
    next: "Next",
    scale: /No animal weighs so much/,

    mean: /10 weighed\. One weighs 35(\.0)?\sg on average/,
    spread: /between 34\.2\sg and 35\.8\sg/,
  },
  fr: {
    dead: /^Morts/,
    keep: "Garder",
    ask: "Est-ce bien cela ?",
    unusual: /Morts\s: 31\. C’est inhabituel\./,
    no: "Non, je change",
    yes: "Oui, c’est bien cela",
    cannot: /Ce n’est pas possible/,
    sent: "Tout est envoyé",
    animal: (n) => new RegExp(`Animal ${n} sur 10`),
    next: "Suivant",
    scale: /Aucun animal ne pèse/,

    mean: /10.*35(,0)?\sg/,
    spread: /34,2\sg.*35,8\sg/,
  },
};

/** unlikely runs these tests in a house, in both languages. */
export async function unlikely(house) {
  const staff = await asStaff(house, "manager");
  const farms = { en: await caretaker(staff, "Hillside"), fr: await caretaker(staff, "Bassin du Quai") };
  for (const lang of ["en", "fr"]) {
    await askedBack(house, staff, farms[lang], lang);
    await weighed(house, staff, farms[lang], lang);
  }
}

// A tank is chosen where the farm has several: only of it the stock is known.
async function toDaybook(page, house) {
  await page.goto(`${house.base}/today/daybook`);
  await unlock(page);
  await page.locator("main .phone-count").first().waitFor();
  const where = page.locator("main select").first();
  if (await where.locator("option", { hasText: "Tank A" }).count())
    await where.selectOption({ label: "Tank A" });
}

const held = async (page, name) => {
  await axe(page, name);
  must((await small(page)).length === 0, `${name}: too small: ${(await small(page)).join("; ")}`);
  must((await sideways(page)) <= 0, `${name} scrolls sideways at 320 px`);
  const large = await page.addStyleTag({ content: ":root[data-reach] { --size: 36px; }" });
  must((await sideways(page)) <= 0, `${name} scrolls sideways with text twice as large`);
  await shot(page, `${name.replaceAll(" ", "-")}-large`, { fullPage: true });
  await large.evaluate((style) => style.remove());
  await shot(page, name.replaceAll(" ", "-"), { fullPage: true });
};

const narrow = { viewport: { width: 320, height: 640 } };

async function askedBack(house, staff, who, lang) {
  const spoken = words[lang];
  await check(
    `unlikely ${lang}: 31 deaths in a day are asked back, more than ever lived are refused`,
    async () => {
      const { page, context } = await enrolled(house, who, narrow);
      const before = await arrived(staff, who.farm, "day", 0);
      await toDaybook(page, house);
      const dead = page.getByLabel(spoken.dead).first();
      await dead.fill("99999");
      await tap(page, spoken.keep);
      await page.getByText(spoken.cannot).first().waitFor();
      await dead.fill("31");
      await tap(page, spoken.keep);
      await page.getByText(spoken.unusual).waitFor();
      await page.getByRole("heading", { name: spoken.ask }).waitFor();
      await held(page, `unlikely asked ${lang}`);
      await tap(page, spoken.no);
      must((await dead.inputValue()) === "31", "what was typed is gone");
      must(
        (await arrived(staff, who.farm, "day", 0)).length === before.length,
        "nothing may be kept before the answer",
      );
      await tap(page, spoken.keep);
      await tap(page, spoken.yes);
      await page.waitForURL("**/today");
      await sent(page, spoken.sent);
      const days = await arrived(staff, who.farm, "day", before.length + 1);
      const [day] = days.filter((d) => d.data.deaths === 31);
      must(day?.data.sure?.includes("deaths"), `that it was asked stays on record: ${JSON.stringify(days)}`);
      await context.close();
    },
  );
}

// Mean and spread by hand: three times 34, four times 35, three times 36 make
// a mean of 35 and a sample standard deviation of the root of 6/9, 0.816.
const weights = [34, 35, 36, 34, 35, 36, 34, 35, 36, 35];

async function weighed(house, staff, who, lang) {
  const spoken = words[lang];
  await check(
    `unlikely ${lang}: ten animals are weighed one by one, with their mean and spread`,
    async () => {
      const { page, context } = await enrolled(house, who, narrow);
      await toDaybook(page, house);
      await page.locator("main a[href^='/today/weigh/']").click();
      const pad = (key) => page.locator(".phone-pad").getByRole("button", { name: key, exact: true }).click();
      const type = async (text) => {
        for (const key of text) await pad(key);
      };
      await page.getByText(spoken.animal(1)).waitFor();
      await type("9999999");
      await tap(page, spoken.next);
      await page.getByText(spoken.scale).waitFor();
      for (let n = 0; n < 7; n++) await page.locator(".phone-pad button").last().click();
      for (const [n, weight] of weights.entries()) {
        await page.getByText(spoken.animal(n + 1)).waitFor();
        if (n === 4) await held(page, `unlikely weigh ${lang}`);
        await type(String(weight));
        await tap(page, spoken.next);
      }
      await page.getByText(spoken.mean).first().waitFor();
      await page.getByText(spoken.spread).waitFor();
      await held(page, `unlikely weighed ${lang}`);
      await tap(page, spoken.keep);
      await sent(page, spoken.sent);
      const [entry] = await arrived(staff, who.farm, "weights", 1);
      must(JSON.stringify(entry.data.weights_g) === JSON.stringify(weights), JSON.stringify(entry));
      await context.close();
    },
  );
}
