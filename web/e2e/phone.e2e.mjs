// The caretaker's phone on a house with invented farms: a day in one column,
// said with a thumb, kept without a network, sent once.
import { axe, check, enrolPhone, must, open, shot } from "./harness.mjs";

const pin = "246810";
// A small screen of a cheap phone.
const screen = { width: 360, height: 640 };
export const tap = (page, name) => page.getByRole("button", { name }).click();
const go = (page, name) => page.getByRole("link", { name }).first().click();
const heading = (page, name) => page.getByRole("heading", { level: 1, name }).waitFor();
export const sent = (page, words = "All sent") => page.locator(".sending").getByText(words).waitFor();

/** asStaff asks the API as somebody of the firm. */
export async function asStaff(house, who) {
  const ask = async (method, path, body, token) => {
    const answer = await fetch(house.base + path, {
      method,
      headers: {
        "Content-Type": "application/json",
        Origin: house.base,
        ...(token ? { Authorization: `Bearer ${token}` } : {}),
      },
      body: body ? JSON.stringify(body) : undefined,
    });
    const told = await answer.json();
    must(answer.ok, `${path}: ${JSON.stringify(told)}`);
    return told;
  };
  const { login, password } = house.people[who];
  const { access_token } = await ask("POST", "/api/sign-in", { login, password });
  return {
    get: (path) => ask("GET", path, undefined, access_token),
    post: (path, body) => ask("POST", path, body, access_token),
  };
}

/** caretaker finds who works on a farm, and a link for a phone of theirs. */
export async function caretaker(staff, farmName) {
  const { items } = await staff.get(`/api/farms?q=${encodeURIComponent(farmName)}`);
  const farm = items[0];
  const { people } = await staff.get(`/api/farms/${farm.id}`);
  const person = people[0];
  const link = () =>
    staff.post(`/api/people/${person.person_id}/ways-in`, { purpose: "phone", kind: "link" });
  return { farm, person, secret: async () => (await link()).secret };
}

export const entriesOf = async (staff, farm, kind) =>
  (await staff.get(`/api/farms/${farm.id}/events?limit=200`)).items.filter((e) => e.kind === kind);

/** arrived waits for so many entries of a kind: "all sent" may still be said of the entry before. */
export async function arrived(staff, farm, kind, n) {
  const until = Date.now() + 30_000;
  for (;;) {
    const have = await entriesOf(staff, farm, kind);
    if (have.length >= n || Date.now() > until) return have;
  }
}

/** enrolled is a fresh phone of a caretaker, on today's page. */
export async function enrolled(house, who, options = {}) {
  const opened = await open("phone", { viewport: screen, ...options });
  await enrolPhone(opened.page, house.base, await who.secret(), pin);
  await opened.page.waitForURL("**/today");
  await opened.page.locator(".phone-age").waitFor();
  return opened;
}

export async function unlock(page) {
  await page.locator("form input").fill(pin);
  await page.locator("form button[type=submit]").click();
}

/** cached waits until the worker has put everything a caretaker needs on the phone. */
export const cached = (page) =>
  page.waitForFunction(async () => {
    await navigator.serviceWorker.ready;
    for (const key of await caches.keys()) {
      const paths = (await (await caches.open(key)).keys()).map((r) => new URL(r.url).pathname);
      if (paths.some((p) => p.includes("phone-pages")) && paths.includes("/")) return true;
    }
    return false;
  });

/** every screen that leads on from today's page, a few of each kind. */
async function screens(page, visit) {
  const seen = new Set();
  const kinds = {};
  const queue = ["/today"];
  for (let path = queue.shift(); path; path = queue.shift()) {
    const kind = path.split("/").slice(0, 3).join("/");
    if (seen.has(path) || (kinds[kind] ?? 0) >= 2) continue;
    seen.add(path);
    kinds[kind] = (kinds[kind] ?? 0) + 1;
    await page.evaluate((to) => {
      history.pushState(null, "", to);
      dispatchEvent(new PopStateEvent("popstate"));
    }, path);
    await page.locator("main h1").waitFor();
    await visit(path, kind.replace(/\W+/g, "-").slice(1));
    const links = await page.locator("main a").evaluateAll((all) => all.map((a) => a.getAttribute("href")));
    queue.push(...links.filter((href) => href?.startsWith("/today")));
  }
  return seen.size;
}

// On the phone main scrolls, so it is what could be wider than the screen.
export const sideways = (page) =>
  page.evaluate(() => {
    const main = document.querySelector("main");
    return Math.max(document.documentElement.scrollWidth - innerWidth, main.scrollWidth - main.clientWidth);
  });

// A target is what a thumb must hit: at least 56 px high, links inside a sentence apart.
export const small = (page) =>
  page
    .locator("main a, main button, main summary, main select, main input:not([type=radio])")
    .evaluateAll((all) =>
      all
        .filter((el) => el.offsetParent && el.getBoundingClientRect().height < 56)
        .map((el) => `${el.tagName} ${el.textContent?.slice(0, 30)} ${el.getBoundingClientRect().height}`),
    );

// Each check has a farm on which it alone writes, so that any of them can be tried alone.
export async function phone(house) {
  const staff = await asStaff(house, "manager");
  const on = (farm) => caretaker(staff, farm);
  await bytes(house, await on("Lower Ridge"));
  await everyScreen(house, await on("Lower Ridge"), "en", "light");
  await everyScreen(house, await on("Bassin du Quai"), "fr", "dark");
  await smallAndLarge(house, await on("Lower Ridge"));
  await aDay(house, staff, await on("Lower Ridge"), "en");
  await aDay(house, staff, await on("Kilomètre Huit"), "fr");
  await withoutNetwork(house, staff, await on("Behind the Mill"));
  await droppedAnswers(house, staff, await on("Market Pond"));
  await signedOut(house, staff, await on("Hillside"));
  await danger(house, await on("Sandpit Corner"));
  await refusal(house, await on("Hillside"));
  await wrongInput(house, staff, await on("Market Pond"));
  await talk(house, staff, await on("Behind the Mill"));
}

async function bytes(house, who) {
  await check("phone: the first load of a caretaker stays below 50 kB, all told", async () => {
    const { page, context } = await open("phone");
    const session = await context.newCDPSession(page);
    await session.send("Network.enable");
    const size = { app: 0, api: 0 };
    const paths = new Map();
    session.on("Network.responseReceived", ({ requestId, response }) => paths.set(requestId, response.url));
    session.on("Network.loadingFinished", ({ requestId, encodedDataLength }) => {
      size[paths.get(requestId)?.includes("/api/") ? "api" : "app"] += encodedDataLength;
    });
    await enrolPhone(page, house.base, await who.secret(), pin);
    await page.locator(".phone-age").waitFor();
    console.log(`      ${size.app} bytes of the app, ${size.api} bytes of answers, headers included`);
    must(size.app > 20_000 && size.app <= 50_000, `${size.app} bytes of the app`);
    must(size.api <= 50_000, `${size.api} bytes of answers`);
    await context.close();
  });
}

async function everyScreen(house, who, lang, colorScheme) {
  await check(`phone: every screen is accessible at 360 x 640 (${lang}, ${colorScheme})`, async () => {
    const { page, context, troubles } = await enrolled(house, who, { colorScheme });
    await page.waitForFunction((want) => document.documentElement.lang === want, lang);
    const count = await screens(page, async (path, name) => {
      await axe(page, `${path} ${lang}`);
      const low = await small(page);
      must(low.length === 0, `${path}: too small for a thumb: ${low.join("; ")}`);
      must((await sideways(page)) <= 0, `${path} scrolls sideways`);
      await shot(page, `phone-${name}-${colorScheme}-${lang}`);
    });
    must(count >= 15, `only ${count} screens were found`);
    const real = troubles.filter((t) => !/status of 401/.test(t));
    must(real.length === 0, real.join("\n"));
    await context.close();
  });
}

async function smallAndLarge(house, who) {
  await check("phone: nothing is cut at 320 px and with text twice as large", async () => {
    const { page, context } = await enrolled(house, who, { viewport: { width: 320, height: 640 } });
    await screens(page, async (path, name) => {
      must((await sideways(page)) <= 0, `${path} scrolls sideways at 320 px`);
      const large = await page.addStyleTag({ content: ":root[data-reach] { --size: 36px; }" });
      must((await sideways(page)) <= 0, `${path} scrolls sideways with large text`);
      if (/today$|trouble$|daybook$/.test(path)) await shot(page, `phone-${name}-large`);
      await large.evaluate((style) => style.remove());
    });
    await context.close();
  });
}

const words = {
  en: {
    well: "All well today",
    kept: "Today’s daybook is kept",
    yes: "Yes",
    training: "Training",
    next: "Next",
    sent: "All sent",
  },
  fr: {
    well: "Tout va bien aujourd’hui",
    kept: "Le cahier d’aujourd’hui est gardé",
    yes: "Oui",
    training: "Formation",
    next: "Suivant",
    sent: "Tout est envoyé",
  },
};

// Answers a round, whatever comes first, and says how many questions it had.
async function answerAll(page, next) {
  const progress = page.locator(".lesson-progress");
  await progress.waitFor();
  const count = Number(/(\d+)\D*$/.exec(await progress.textContent())[1]);
  for (let n = 0; n < count; n++) {
    await page.locator(".ask").waitFor();
    const options = page.locator(".ask-option");
    const main = page.locator(".ask-actions .button-main");
    if (await page.locator(".ask form").count()) {
      await page.locator(".ask form input").fill("1");
      await main.click();
    } else if (await page.locator(".ask-option[aria-pressed]").count()) {
      for (let i = 0; i < (await options.count()); i++) await options.nth(i).click();
      await main.click();
    } else await options.first().click();
    await page.locator(".verdict").waitFor();
    await tap(page, next);
  }
  await progress.waitFor({ state: "detached" });
  return count;
}

async function aDay(house, staff, who, lang) {
  const say = words[lang];
  await check(
    `phone ${lang}: all well is one press, an item two, a module its cards and questions`,
    async () => {
      const { page, context } = await enrolled(house, who);
      await tap(page, say.well);
      await page.getByText(say.kept).waitFor();
      await sent(page, say.sent);
      const days = await arrived(staff, who.farm, "day", 1);
      must(days.length === 1 && days[0].data.all_well === true, JSON.stringify(days));
      await page.locator("main a[href^='/today/list/']", { hasText: /Readiness|Préparation/ }).click();
      await page.locator("main a[href$='/soil-moist']").click();
      await tap(page, say.yes);
      await sent(page, say.sent);
      const items = await arrived(staff, who.farm, "item", 1);
      must(
        items.length === 1 && items[0].data.item === "soil-moist" && items[0].data.answer === "yes",
        JSON.stringify(items),
      );
      await page.goto(`${house.base}/today`);
      await unlock(page);
      await go(page, say.training);
      await page.locator("main a[href^='/today/module/']").first().click();
      await page.locator("main a[href$='/questions']").click();
      const asked = await answerAll(page, say.next);
      await shot(page, `phone-module-result-${lang}`);
      await sent(page, say.sent);
      const [round] = await arrived(staff, who.farm, "answers", 1);
      must(Object.keys(round.data.answers).length === asked, JSON.stringify(round.data));
      await context.close();
    },
  );
}

async function withoutNetwork(house, staff, who) {
  await check("phone: an entry made without a network outlives the battery and is sent once", async () => {
    const { page, context } = await enrolled(house, who);
    await cached(page);
    const before = (await entriesOf(staff, who.farm, "could-not")).length;
    await context.setOffline(true);
    await page.goto(`${house.base}/today/could-not`);
    await unlock(page);
    await heading(page, "I could not do it");
    await tap(page, "Rain or flood");
    await sent(page, "1 entry kept on this phone, not sent yet");
    await shot(page, "phone-kept");
    // The battery falls out.
    await page.goto(`${house.base}/today`);
    await unlock(page);
    await sent(page, "1 entry kept on this phone, not sent yet");
    await page.getByText("Today’s daybook is kept").waitFor();
    must((await entriesOf(staff, who.farm, "could-not")).length === before, "nothing can have come");
    await context.setOffline(false);
    await sent(page);
    const after = await arrived(staff, who.farm, "could-not", before + 1);
    must(after.length === before + 1 && after[0].data.reason === "rain", JSON.stringify(after));
    await context.close();
  });
}

async function droppedAnswers(house, staff, who) {
  await check("phone: an answer that is lost on the way makes no second entry", async () => {
    const { page, context } = await enrolled(house, who);
    const before = (await entriesOf(staff, who.farm, "call-me")).length;
    let dropped = 0;
    await page.route("**/api/sync", async (route) => {
      const answer = await route.fetch();
      if (dropped++ < 2) await route.abort();
      else await route.fulfill({ response: answer });
    });
    await go(page, /Call us/);
    await tap(page, /Call me back/);
    await sent(page, "1 entry kept on this phone, not sent yet");
    await tap(page, "Send now");
    await page.waitForFunction(() =>
      document.querySelector(".sending")?.textContent?.includes("not sent yet"),
    );
    await tap(page, "Send now");
    await sent(page);
    must(dropped === 3, `${dropped} tries`);
    must((await entriesOf(staff, who.farm, "call-me")).length === before + 1, "the wish must be there once");
    await page.getByText("You asked us to call you back.").waitFor();
    await context.close();
  });
}

async function danger(house, who) {
  await check(
    "phone: trouble is two presses, and danger says what to do before anything is sent",
    async () => {
      const { page, context } = await enrolled(house, who);
      await cached(page);
      await context.setOffline(true);
      await go(page, "Report trouble");
      await tap(page, /Someone got a shock/);
      await page.getByText(/Do not touch the person or the water/).waitFor();
      await page.getByText("NOT SENT. Do this now, then go where there is network and call.").waitFor();
      const number = await page
        .getByRole("link", { name: /^Call .* now/ })
        .first()
        .getAttribute("href");
      must(/^tel:\+\d+$/.test(number), `the number is ${number}`);
      const line = await page.locator(".sending").boundingBox();
      for (const seen of [/^NOT SENT/, /^Call .* now/]) {
        const box = await page.getByText(seen).first().boundingBox();
        must(
          box.y + box.height <= line.y,
          `${seen} must be in sight without scrolling: ${JSON.stringify(box)}`,
        );
      }
      await axe(page, "danger");
      await shot(page, "phone-danger");
      await context.setOffline(false);
      await page.getByText("Your report has reached us.").waitFor();
      await page.getByRole("link", { name: "Back" }).click();
      await go(page, /My reports/);
      await page
        .getByText(/Your report no\. \d+\/\d\d/)
        .first()
        .waitFor();
      await context.close();
    },
  );
}

async function refusal(house, who) {
  await check("phone: what cannot be taken stays, with its reason, until the person decides", async () => {
    const { page, context } = await enrolled(house, who);
    await page.clock.setFixedTime(new Date(Date.now() + 3 * 86_400_000));
    await page.evaluate(() => dispatchEvent(new Event("online")));
    await go(page, "Daybook");
    await page.getByLabel(/^Dead/).fill("1");
    await tap(page, "Keep");
    await page.getByText("1 entry needs you").first().waitFor();
    await go(page, "1 entry needs you");
    await page.getByText("The day is after today. Check the date of the phone.").waitFor();
    await axe(page, "sent, with a refusal");
    await shot(page, "phone-refused");
    await tap(page, "Throw away");
    await page.getByText("The day is after today.").waitFor({ state: "detached" });
    await context.close();
  });
}

async function signedOut(house, staff, who) {
  await check(
    "phone: what is said after the phone was signed out is kept, and sent once it is let in again",
    async () => {
      const { page, context } = await enrolled(house, who);
      const before = (await entriesOf(staff, who.farm, "day")).length;
      await page.route("**/api/**", (route) =>
        route.fulfill({
          status: 401,
          contentType: "application/problem+json",
          body: '{"code":"signed-out"}',
        }),
      );
      await tap(page, /All well today/);
      await page.getByText("Today’s daybook is kept").waitFor();
      await page.locator(".sending").getByRole("link", { name: "Sign in to send them" }).waitFor();
      await axe(page, "kept, signed out");
      await page.unroute("**/api/**");
      await enrolPhone(page, house.base, await who.secret(), pin);
      await sent(page);
      must(
        (await arrived(staff, who.farm, "day", before + 1)).length === before + 1,
        "the daybook must be there once",
      );
      await context.close();
    },
  );
}

async function wrongInput(house, staff, who) {
  await check("phone: what cannot be right is said at its field, and nothing typed is lost", async () => {
    const { page, context } = await enrolled(house, who);
    const before = (await entriesOf(staff, who.farm, "day")).length;
    await go(page, "Daybook");
    await tap(page, "Keep");
    await page.getByRole("alert").waitFor();
    await page.getByLabel(/^Dead/).fill("two");
    await page.getByLabel(/^Feed given/).fill("900000");
    await tap(page, "Keep");
    await page.getByText(/“two” is not a number/).waitFor();
    await page.getByText(/is the most this can be/).waitFor();
    await page.waitForFunction(() => document.activeElement?.getAttribute("aria-invalid") === "true");
    must((await page.getByLabel(/^Dead/).inputValue()) === "two", "what was typed is gone");
    await axe(page, "daybook with wrong counts");
    await shot(page, "phone-daybook-wrong");
    await page.getByLabel(/^Dead/).fill("2");
    await page.getByLabel(/^Feed given/).fill("1,5");
    await page.getByLabel(/few words/i).fill("x".repeat(1_200));
    await page.getByText(/No more than 1,000 characters/).waitFor();
    await tap(page, "Keep");
    await page.waitForURL("**/today");
    await sent(page);
    const days = await arrived(staff, who.farm, "day", before + 1);
    must(days.length === before + 1, "one daybook must have come");
    must(days[0].data.deaths === 2 && days[0].data.feed_kg === 1.5, JSON.stringify(days[0].data));

    await go(page, "Report trouble");
    await go(page, "Something else");
    await tap(page, "Keep");
    await page.getByText("Fill this in.").waitFor();
    await page.goBack();
    await page.goBack();
    await page.locator("main a[href^='/today/milestone/']").first().click();
    const day = page.getByLabel("On which day?");
    await day.fill("2099-01-01");
    await page.getByText(/This day has not come yet/).waitFor();
    await page.locator("main .button-main").click();
    await page.waitForFunction(() => document.activeElement?.type === "date");
    must(page.url().includes("/milestone/"), "a day to come must not be taken");
    await context.close();
  });
}

async function talk(house, staff, who) {
  await check("phone: a report tells who saw it, and an answer goes back", async () => {
    const { page, context } = await enrolled(house, who);
    await go(page, "Report trouble");
    await tap(page, /Someone got a shock/);
    await page.getByText("Your report has reached us.").waitFor();
    const { items } = await staff.get(`/api/tickets?farm=${who.farm.id}&origin=caretaker`);
    must(items.length === 1, "the report must be in the queue once");
    await staff.post(`/api/tickets/${items[0].id}/say`, { text: "Is everybody well?" });
    await page.goto(`${house.base}/today`);
    await unlock(page);
    await page.locator(".phone-age").waitFor();
    await go(page, /My reports/);
    await go(page, /Someone got a shock/);
    await page.getByText(/saw this/).waitFor();
    await page.getByText("Is everybody well?").waitFor();
    await page.getByLabel(/Write to us/).fill("Yes, only frightened.");
    await tap(page, "Send");
    await sent(page);
    await page.getByText("Yes, only frightened.").waitFor();
    await shot(page, "phone-report");
    const thread = await staff.get(`/api/tickets/${items[0].id}`);
    must(
      thread.events.some((e) => e.text === "Yes, only frightened."),
      "the message must have come",
    );
    await context.close();
  });
}
