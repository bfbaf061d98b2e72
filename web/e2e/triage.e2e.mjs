// The triage cards and the call desk around them, by keyboard alone, in both
// languages: heavy deaths, danger to a person, overruling, the clock of the
// veterinary service, the link of a phone system, calls held open, a call cut
// off, slips of the fingers, and a number that nobody knows.
import { axe, check, language, must, open, shot, signIn } from "./harness.mjs";
import { openHouse } from "./seed/house.mjs";

const words = {
  en: {
    farm: "market pond",
    caller: "etonde ruth",
    said: "Two hundred dead since we stocked",
    sign: "Many d",
    ending: "No fish, net or bucket leaves this tank",
    card: /^Card: Many dead/,
    vet: "To tell the veterinary service",
    how: "District veterinary post by phone",
    why: "I was there an hour ago",
    shock: /^Card: Someone got a shock/,
    spoken: "Switch",
  },
  fr: {
    farm: "market pond",
    caller: "etonde ruth",
    said: "Deux cents morts depuis la mise en bac",
    sign: "Beaucoup de m",
    ending: "No fish, net or bucket leaves this tank",
    card: /^Fiche\s: Beaucoup de morts/,
    vet: "À dire au service vétérinaire",
    how: "Poste vétérinaire du district par téléphone",
    why: "J’y étais il y a une heure",
    shock: /^Fiche\s: Quelqu.un a reçu une décharge/,
    spoken: "Coupez",
  },
};

/** triage tries the cards in a house of its own. */
export async function triage(binary) {
  const house = await openHouse(binary);
  try {
    for (const lang of ["en", "fr"]) await heavyDeaths(house, lang);
    await danger(house);
    await around(house);
  } finally {
    await house.close();
  }
}

const focused = (page, selector) => page.waitForFunction((s) => document.activeElement?.matches(s), selector);

async function atDesk(house, lang = "en", options = {}) {
  const opened = await open("desk", options);
  await signIn(opened.page, house.base, house.people.advisor);
  if (lang === "fr") await language(opened.page, "Français");
  await opened.page.locator(".views-nav").waitFor();
  return opened;
}

// Keys that move or choose, apart from the letters of what is said.
function typist(page) {
  let keys = 0;
  return {
    press: async (...names) => {
      for (const name of names) {
        keys++;
        await page.keyboard.press(name);
      }
    },
    type: (text) => page.keyboard.type(text),
    few: (what) => {
      console.log(`      ${what}: ${keys} keys`);
      must(keys < 60, `${keys} keys`);
    },
  };
}

async function begin(page, keyboard, find, said, sign) {
  await keyboard.press("F2");
  await keyboard.type(find);
  await keyboard.press("Enter");
  await focused(page, ".call-said textarea");
  await page.locator(".six").waitFor();
  await keyboard.type(said);
  await keyboard.press("Tab");
  await keyboard.type(sign);
  await page.locator(".card-walk").waitFor();
  await keyboard.press("Tab");
  await focused(page, ".card-choices button");
}

async function heavyDeaths(house, lang) {
  const say = words[lang];
  await check(
    `triage ${lang}: heavy deaths after stocking, by keyboard, told to the veterinary service`,
    async () => {
      const { page, context } = await atDesk(house, lang);
      const keyboard = typist(page);
      await begin(page, keyboard, say.caller, say.said, say.sign);
      await page.getByRole("region", { name: say.card }).waitFor();
      // Nobody hurt, nobody unwell, power off; 200 dead; stocked lately; nothing sprayed; it goes on with sores.
      await keyboard.press("2", "2", "1");
      await keyboard.type("200");
      await keyboard.press("Enter", "1", "2", "3");
      await focused(page, ".card-end h3");
      await page.locator(".card-end").getByText(say.ending).waitFor();
      must((await page.locator(".card-cautions li").count()) === 4, "the cautions are not all there");
      await shot(page, `triage-ended-${lang}`);
      await axe(page, `triage ended ${lang}`);
      await keyboard.press("Control+Enter");
      await page.locator(".sent").waitFor();
      await keyboard.press("p");
      const clocks = page.getByRole("region", { name: say.vet });
      await clocks.waitFor();
      await shot(page, `triage-vet-clock-${lang}`);
      await axe(page, `vet clock ${lang}`);
      await clocks.getByRole("textbox").first().focus();
      await keyboard.type(say.how);
      await keyboard.press("Enter");
      await clocks.waitFor({ state: "detached" });
      keyboard.few("heavy deaths after stocking");
      await context.close();
    },
  );
}

async function danger(house) {
  await check(
    "triage: a person in danger comes before the animals, and overruling needs a reason",
    async () => {
      const { page, context } = await atDesk(house);
      const keyboard = typist(page);
      await begin(page, keyboard, "rose ng", "The pump stopped and he touched it", "No w");
      await keyboard.press("1");
      await page.getByRole("region", { name: words.en.shock }).waitFor();
      await focused(page, ".card-choices button");
      await page.locator(".card-walk").getByText("person in danger").waitFor();
      // Somebody is hurt, still in contact: power off first.
      await keyboard.press("1", "1");
      await page.locator(".card-now").getByText("Coupez le courant").waitFor();
      await shot(page, "triage-danger");
      await axe(page, "triage danger");
      await keyboard.press("Backspace", "2", "1");
      await page.locator(".card-end").waitFor();
      await page
        .locator(".call-form")
        .getByRole("checkbox", { name: "A person is in danger" })
        .first()
        .uncheck();
      await page.locator(".card-why input").waitFor();
      await keyboard.press("Control+Enter");
      await page.locator(".move-end .field-error").waitFor();
      await page.locator(".card-why input").fill(words.en.why);
      await keyboard.press("Control+Enter");
      await page.locator(".sent").waitFor();
      await context.close();
    },
  );
}

async function around(house) {
  await check(
    "triage: a phone system's link opens the brief, begins no call and leaves no number",
    async () => {
      const { page, context } = await atDesk(house);
      await page.goto(`${house.base}/desk/call?from=%2B237550050303`);
      await page.getByRole("heading", { level: 1, name: "Bassin du Quai" }).waitFor();
      must(!page.url().includes("550050303"), page.url());
      must(!house.output().includes("550050303"), "the number stands in the log");
      must((await page.locator(".call-clock").count()) === 0, "a call has begun by itself");
      await page.keyboard.press("F7");
      await page.locator(".call-clock").waitFor();
      await page.keyboard.press("Escape");
      await page.keyboard.press("q");
      await page.locator(".open-calls").getByText("Bassin du Quai").waitFor();
      await page.keyboard.press("F6");
      await page.getByRole("heading", { level: 1, name: "Bassin du Quai" }).waitFor();
      await page.keyboard.press("Shift+F7");
      await page.locator(".sent").waitFor();
      await page.goto(`${house.base}/desk/promises`);
      await page.getByText("Call again: we were cut off").first().waitFor();
      await context.close();
    },
  );

  await check("triage: a slip of the fingers is forgiven, and the reason is said", async () => {
    const { page, context } = await atDesk(house);
    await page.keyboard.press("F2");
    await page.keyboard.type("sandpti conrer");
    const option = page.locator(".find-option").first();
    await option.getByText("Sandpit Corner").first().waitFor();
    await option.getByText("spelt nearly so").waitFor();
    await context.close();
  });

  await check("triage: a number that nobody knows becomes a caretaker of a farm", async () => {
    const { page, context } = await atDesk(house);
    await page.goto(`${house.base}/desk/call?from=%2B237550059999`);
    await page.locator(".call-said textarea").waitFor();
    await page.locator(".call-said textarea").fill("Says the door hangs");
    await page.keyboard.press("Control+Enter");
    await page.locator(".sent").waitFor();
    await page.goto(`${house.base}/desk/promises`);
    const unknown = page.locator(".unknown-calls");
    await unknown.getByText("+237550059999").waitFor();
    await axe(page, "unknown calls");
    await unknown.getByRole("link", { name: "Find the farm" }).first().click();
    await page.getByRole("checkbox", { name: /new/i }).check();
    await page.getByLabel("Their name").fill("Bih Sona");
    await page.getByLabel("Farm", { exact: false }).last().fill("behind the mill");
    await page
      .getByRole("button", { name: /Behind the Mill/ })
      .first()
      .click();
    await page.getByRole("heading", { level: 1, name: "Behind the Mill" }).waitFor();
    await page.locator(".brief-line").getByText("Bih Sona").first().waitFor();
    await shot(page, "triage-attached");
    await context.close();
  });

  await check("triage: cards are listed for a veterinarian, and a colleague covers who is away", async () => {
    for (const lang of ["en", "fr"]) {
      const { page, context } = await atDesk(house, lang);
      await page.goto(`${house.base}/desk/cards`);
      await page.locator(".review-card").nth(40).waitFor();
      await page.locator(".review-card summary").first().click();
      await shot(page, `triage-cards-${lang}`);
      await axe(page, `cards ${lang}`);
      const download = page.waitForEvent("download");
      await page.locator(".desk button").first().click();
      must((await download).suggestedFilename() === "triage-cards.csv", "no table came");
      await page.goto(`${house.base}/desk/promises`);
      await page.locator(".absences summary").click();
      await page.locator(".absence-form select").selectOption({ label: "Tende Ojong" });
      await axe(page, `absence ${lang}`);
      await page.locator(".absence-form button").click();
      const line = page.locator(".absences > p").getByText("Tende Ojong");
      await line.waitFor();
      await page.locator(".absences > p button").click();
      await line.waitFor({ state: "detached" });
      await context.close();
    }
  });

  await check("triage: a manager notes what a veterinarian signed", async () => {
    const { page, context } = await open("desk");
    await signIn(page, house.base, house.people.manager);
    await page.goto(`${house.base}/manager/cards`);
    const card = page.locator(".review-card").first();
    await card.waitFor();
    const name = await card.locator("strong").textContent();
    await card.getByText("Note a signature").click();
    await card.getByLabel("Veterinarian").fill("Dr Invented");
    await card.getByLabel("Title and registration").fill("DVM 0");
    await axe(page, "a signature");
    await card.getByRole("button", { name: "Note it" }).click();
    const signed = page.locator(".review-card").filter({ hasText: "signed by Dr Invented (DVM 0)" });
    await signed.waitFor();
    must((await signed.locator("strong").textContent()) === name, "another card was signed");
    await shot(page, "triage-signed");
    await context.close();
  });

  await check("triage: the card reads well at 1920x1080", async () => {
    const { page, context } = await atDesk(house, "fr", { viewport: { width: 1920, height: 1080 } });
    const keyboard = typist(page);
    await begin(page, keyboard, "eposi", "Beaucoup de morts", "Beaucoup");
    await shot(page, "triage-1920");
    await axe(page, "triage 1920");
    must(
      await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth),
      "the page scrolls sideways",
    );
    await context.close();
  });
}
