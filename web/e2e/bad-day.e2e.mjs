// What goes wrong on a phone: a server that refuses or is lost, a page killed
// while it keeps something, a release under an open page, a disk that is full.
// Nothing that a caretaker was told is kept is lost, and nothing comes twice.
import { front } from "./front.mjs";
import { axe, check, enrolPhone, must, open, shot } from "./harness.mjs";
import {
  arrived,
  asStaff,
  cached,
  caretaker,
  enrolled,
  entriesOf,
  sent,
  sideways,
  small,
  tap,
  unlock,
} from "./phone.e2e.mjs";

const words = {
  en: {
    rain: "Rain or flood",
    ill: "I was ill",
    kept: (n) => (n === 1 ? "1 entry kept on this phone" : `${n} entries kept on this phone`),
    sent: "All sent",
    now: "Send now",
    signIn: "Sign in to send them",
    needs: "1 entry needs you",
    stale: /Someone has changed this since/,
    again: "Send again",
    invalid: /Some of what you entered cannot be right/,
    write: /Write to us/,
    send: "Send",
    ready: "A new version of Tendfold is ready.",
    take: "Use it now",
    full: /This phone has no room left/,
    note: /few words/i,
    keep: "Keep",
    daybook: /Daybook of/,
  },
  fr: {
    rain: "Pluie ou inondation",
    ill: "J’étais malade",
    kept: (n) => (n === 1 ? "1 saisie gardée sur ce téléphone" : `${n} saisies gardées sur ce téléphone`),
    sent: "Tout est envoyé",
    now: "Envoyer maintenant",
    signIn: "Connectez-vous pour les envoyer",
    needs: "1 saisie a besoin de vous",
    stale: /Quelqu’un a changé ceci/,
    again: "Renvoyer",
    invalid: /Une partie de ce que vous avez noté ne peut pas être juste/,
    write: /Écrivez-nous/,
    send: "Envoyer",
    ready: "Une nouvelle version de Tendfold est prête.",
    take: "L’utiliser",
    full: /Ce téléphone n’a plus de place/,
    note: /quelques mots/i,
    keep: "Garder",
    daybook: /Cahier du/,
  },
};

/** badDay runs these tests in a house, in one language. */
export const badDay = (lang) => async (house) => {
  const staff = await asStaff(house, "manager");
  const who = await caretaker(staff, { en: "Market Pond", fr: "Bassin du Quai" }[lang]);
  for (const test of [answers, refusedMessage, signedOut, killed, release, full])
    await test(house, staff, who, lang);
};

const problem = (status, code) => ({
  status,
  contentType: "application/problem+json",
  body: JSON.stringify({ code, status, detail: `told ${status}` }),
});

/** say keeps one entry: why the day's work could not be done. */
async function say(page, house, reason) {
  await page.goto(new URL("/today/could-not", house.base).href);
  await unlock(page);
  await tap(page, reason);
  await page.waitForURL("**/today");
}

const told = (staff, who) => entriesOf(staff, who.farm, "could-not");

async function once(staff, who, before, n, why) {
  await arrived(staff, who.farm, "could-not", before + n);
  const have = (await told(staff, who)).length;
  must(have === before + n, `${have - before} entries came of ${n}: ${why}`);
}

async function answers(house, staff, who, lang) {
  const spoken = words[lang];
  await check(
    `bad day ${lang}: answers of 401, 409, 422, 429, 503 and none leave the entry, once`,
    async () => {
      const { page, context } = await enrolled(house, who);
      const before = (await told(staff, who)).length;
      const coming = [401, 409, 422, 429, 503, "lost"];
      let tries = 0;
      await page.route("**/api/sync", async (route) => {
        tries++;
        const next = coming.shift();
        if (!next) return route.fallback();
        if (next !== "lost") return route.fulfill(problem(next, `status-${next}`));
        await route.fetch();
        await route.abort();
      });
      // The button goes when the phone sends by itself meanwhile: that is sending too.
      const press = () =>
        page
          .getByRole("button", { name: spoken.now })
          .click({ timeout: 2_000 })
          .catch(() => undefined);
      await say(page, house, spoken.rain);
      while (coming.length > 0) {
        const left = coming.length;
        await sent(page, spoken.kept(1));
        await press();
        for (const until = Date.now() + 20_000; coming.length === left; await page.waitForTimeout(20))
          must(Date.now() < until, "it must be sent again");
      }
      if (await page.getByText(spoken.kept(1)).count()) await press();
      await sent(page, spoken.sent);
      must(tries >= 7, `${tries} tries`);
      await once(staff, who, before, 1, "after every kind of answer");
      await context.close();
    },
  );
}

async function refusedMessage(house, staff, who, lang) {
  const spoken = words[lang];
  await check(`bad day ${lang}: a message that is refused says why, and goes again when asked`, async () => {
    const { page, context } = await enrolled(house, who);
    await page.goto(`${house.base}/today/trouble`);
    await unlock(page);
    await page.locator("main button.phone-row").last().click();
    await sent(page, spoken.sent);
    const before = await reported(staff, who);
    await page.goto(`${house.base}/today`);
    await unlock(page);
    await page.locator(".phone-age").waitFor();
    await page.locator("main a[href='/today/reports']").click();
    await page.locator("main a[href^='/today/report/']").first().click();
    const refusals = [409, 422];
    await page.route("**/api/tickets/*/say", (route) => {
      const status = refusals.shift();
      return status ? route.fulfill(problem(status, status === 409 ? "stale" : "invalid")) : route.fallback();
    });
    const text = `${lang} ${Date.now()}`;
    await page.getByLabel(spoken.write).fill(text);
    await tap(page, spoken.send);
    await page.getByText(spoken.needs).first().waitFor();
    await page.goto(`${house.base}/today/sent`);
    await unlock(page);
    await page.getByText(spoken.stale).waitFor();
    await axe(page, "sent, with a refused message");
    must((await small(page)).length === 0, `too small: ${await small(page)}`);
    must((await sideways(page)) <= 0, "it scrolls sideways");
    await shot(page, `bad-day-refused-${lang}`, { fullPage: true });
    await tap(page, spoken.again);
    await page.getByText(spoken.invalid).waitFor();
    await tap(page, spoken.again);
    await page.getByText(spoken.needs).waitFor({ state: "detached" });
    await sent(page, spoken.sent);
    const threads = await Promise.all(before.map((t) => staff.get(`/api/tickets/${t.id}`)));
    const said = threads.flatMap((t) => t.events).filter((e) => e.text === text);
    must(said.length === 1, `the message came ${said.length} times`);
    await context.close();
  });
}

/** reported waits for a report of this farm: "all sent" may still be said of the entry before. */
async function reported(staff, who) {
  for (const until = Date.now() + 30_000; ; ) {
    const { items } = await staff.get(`/api/tickets?farm=${who.farm.id}&origin=caretaker`);
    if (items.length > 0) return items;
    must(Date.now() < until, "the report must be in the queue");
  }
}

async function signedOut(house, staff, who, lang) {
  const spoken = words[lang];
  await check(
    `bad day ${lang}: a server that knows nobody any more is told in words; signing in sends`,
    async () => {
      const { page, context } = await enrolled(house, who);
      const before = (await entriesOf(staff, who.farm, "call-me")).length;
      await page.route("**/api/**", (route) => route.fulfill(problem(401, "signed-out")));
      await page.locator("main a[href='/today/help']").click();
      await page.locator("main button.phone-button").first().click();
      await page.locator(".sending").getByRole("link", { name: spoken.signIn }).waitFor();
      await shot(page, `bad-day-signed-out-${lang}`);
      await page.unroute("**/api/**");
      await enrolPhone(page, house.base, await who.secret());
      await sent(page, spoken.sent);
      const calls = await arrived(staff, who.farm, "call-me", before + 1);
      must(calls.length === before + 1, `${calls.length - before} wishes came of 1`);
      await context.close();
    },
  );
}

/** crash ends the page's process at once, as a phone does that needs the room. */
async function crash(page) {
  const session = await page.context().newCDPSession(page);
  const gone = page.waitForEvent("crash");
  session.send("Page.crash").catch(() => undefined);
  await gone;
  await page.close();
}

const inOutbox = (page) =>
  page.evaluate(
    () =>
      new Promise((done, no) => {
        const asked = indexedDB.open("tendfold");
        asked.onerror = () => no(asked.error);
        asked.onsuccess = () => {
          const all = asked.result.transaction("outbox").objectStore("outbox").getAll();
          all.onsuccess = () => {
            asked.result.close();
            done(all.result.map((e) => e.id));
          };
        };
      }),
  );

async function killed(house, staff, who, lang) {
  const spoken = words[lang];
  await check(
    `bad day ${lang}: a page killed while it keeps an entry loses nothing it has told`,
    async () => {
      const { page: first, context } = await enrolled(house, who);
      const before = (await told(staff, who)).length;
      await cached(first);
      await first.close();
      await context.setOffline(true);
      let kept = 0;
      const outcome = [];
      for (const wait of [0, 20, 60, 150, "told"]) {
        const page = await context.newPage();
        await page.goto(`${house.base}/today/could-not`);
        await unlock(page);
        const button = page.getByRole("button", { name: spoken.rain });
        await button.waitFor();
        await button.evaluate((b) => b.click());
        if (wait === "told")
          await page
            .locator(".sending")
            .getByText(spoken.kept(kept + 1))
            .waitFor();
        else await new Promise((done) => setTimeout(done, wait));
        const line = await page.locator(".sending").textContent();
        await crash(page);
        const after = await context.newPage();
        await after.goto(`${house.base}/today`);
        await unlock(after);
        await after.locator(".phone-age").waitFor();
        const ids = await inOutbox(after);
        must(
          ids.length === kept || ids.length === kept + 1,
          `${ids.length} entries after ${kept} and a press`,
        );
        if (line.includes(spoken.kept(kept + 1)))
          must(ids.length === kept + 1, `killed after ${wait} ms, it had told "${line}" and lost it`);
        outcome.push(`${wait}: ${ids.length > kept ? "kept" : "not kept"}`);
        kept = ids.length;
        if (kept > 0) await sent(after, spoken.kept(kept));
        await after.close();
      }
      console.log(`      killed after ... ms: ${outcome.join(", ")}`);
      must(outcome.at(-1) === "told: kept", outcome.at(-1));
      await context.setOffline(false);
      const page = await context.newPage();
      await page.goto(`${house.base}/today`);
      await unlock(page);
      await sent(page, spoken.sent);
      await once(staff, who, before, kept, "after the kills");
      await context.close();
    },
  );
}

async function release(house, staff, who, lang) {
  const spoken = words[lang];
  await check(
    `bad day ${lang}: a release waits until the person agrees, and what is unsent outlives it`,
    async () => {
      let next = false;
      const door = await front(house.base, ({ url, method }) => {
        if (!next) return undefined;
        if (url === "/sw.js")
          return { turn: (text) => text.replace(/const version = "[^"]+"/, 'const version = "next"') };
        if (url === "/")
          return { turn: (text) => text.replace("<head>", '<head><meta name="release" content="next">') };
        // The release has replaced every file of the old one.
        if (url.startsWith("/assets/")) return { status: 404 };
        if (method === "POST" && url === "/api/sync") return { status: 503 };
        return undefined;
      });
      const { page, context } = await open("phone", { viewport: { width: 360, height: 640 } });
      const here = { ...house, base: door.base };
      const isNext = () => page.evaluate(() => document.querySelector("meta[name=release]") !== null);
      const before = (await told(staff, who)).length;
      await enrolPhone(page, door.base, await who.secret());
      await page.locator(".phone-age").waitFor();
      await cached(page);
      next = true;
      await say(page, here, spoken.rain);
      await sent(page, spoken.kept(1));
      await page.evaluate(() => document.dispatchEvent(new Event("visibilitychange")));
      await page.getByText(spoken.ready).waitFor();
      await axe(page, "a release that waits");
      await shot(page, `bad-day-release-${lang}`);

      // The page that is open goes on, and so does one that is opened anew.
      await page.locator("main a[href='/today/daybook']").first().click();
      await page.getByRole("heading", { level: 1, name: spoken.daybook }).waitFor();
      await page.goto(`${door.base}/today`);
      must(!(await isNext()), "the release came without being asked");
      await unlock(page);
      await sent(page, spoken.kept(1));
      await say(page, here, spoken.ill);
      await sent(page, spoken.kept(2));

      const loaded = page.waitForEvent("load");
      await tap(page, spoken.take);
      await loaded;
      must(await isNext(), "the release must come once it is asked for");
      await unlock(page);
      await sent(page, spoken.kept(2));
      await page.getByText(spoken.ready).waitFor({ state: "detached" });
      next = false;
      await page.evaluate(() => dispatchEvent(new Event("online")));
      await sent(page, spoken.sent);
      await once(staff, who, before, 2, "after the release");
      await context.close();
      door.close();
    },
  );
}

/** smallPhone is an enrolled phone with room for a few megabytes; `room` gives it more. */
async function smallPhone(house, who) {
  const opened = await open("phone", { viewport: { width: 360, height: 640 } });
  const session = await opened.context.newCDPSession(opened.page);
  const limit = (more) => session.send("Storage.overrideQuotaForOrigin", { origin: house.base, ...more });
  // Before the first byte is written: the browser believes for half a minute in the room that it found.
  await limit({ quotaSize: 6_000_000 });
  await enrolPhone(opened.page, house.base, await who.secret());
  await opened.page.locator(".phone-age").waitFor();
  return { ...opened, room: () => limit({}) };
}

/** fill writes the phone full with what is not ours. */
async function fill(page) {
  const wrote = await page.evaluate(async () => {
    const asked = indexedDB.open("pictures of others", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("all", { autoIncrement: true });
    await new Promise((done) => {
      asked.onsuccess = done;
    });
    const piece = Uint8Array.from({ length: 500_000 }, () => Math.random() * 256);
    const write = () =>
      new Promise((done) => {
        const tx = asked.result.transaction("all", "readwrite");
        tx.objectStore("all").add(piece);
        tx.oncomplete = () => done(true);
        tx.onabort = () => done(false);
      });
    let n = 0;
    while (n < 40 && (await write())) n++;
    return n;
  });
  must(wrote < 40, "the phone is never full");
}

async function full(house, staff, who, lang) {
  const spoken = words[lang];
  await check(
    `bad day ${lang}: a full phone says so, and loses neither what was kept nor what is typed`,
    async () => {
      const { page, context, room } = await smallPhone(house, who);
      const before = (await told(staff, who)).length;
      const days = (await entriesOf(staff, who.farm, "day")).length;
      await cached(page);
      await context.setOffline(true);
      await say(page, house, spoken.rain);
      await sent(page, spoken.kept(1));
      await page.locator("main a[href='/today/daybook']").first().click();
      await page.getByLabel(spoken.note).fill("One pot was broken.");
      await fill(page);
      await page.locator(".attach input[type=file]").setInputFiles({
        name: "IMG.jpg",
        mimeType: "image/jpeg",
        buffer: await drawn(page),
      });
      await page.locator(".attach").getByText(spoken.full).waitFor();
      await tap(page, spoken.keep);
      await page.locator(".trouble").getByText(spoken.full).waitFor();
      must(
        (await page.getByLabel(spoken.note).inputValue()) === "One pot was broken.",
        "what was typed is gone",
      );
      await sent(page, spoken.kept(1));
      const [trouble, line] = [
        await page.locator(".trouble").boundingBox(),
        await page.locator(".sending").boundingBox(),
      ];
      must(trouble.y > 0 && trouble.y + trouble.height <= line.y, "what went wrong must be in sight");
      await axe(page, "a full phone");
      must((await sideways(page)) <= 0, "it scrolls sideways");
      await shot(page, `bad-day-full-${lang}`, { fullPage: true });
      await room();
      await tap(page, spoken.keep);
      await page.waitForURL("**/today");
      await sent(page, spoken.kept(2));
      await context.setOffline(false);
      await sent(page, spoken.sent);
      await once(staff, who, before, 1, "kept before the phone was full");
      const now = await arrived(staff, who.farm, "day", days + 1);
      must(
        now.length === days + 1 && now.some((d) => d.data.note === "One pot was broken."),
        JSON.stringify(now),
      );
      await context.close();
    },
  );
}

const drawn = async (page) =>
  Buffer.from(
    await page.evaluate(async () => {
      const canvas = Object.assign(document.createElement("canvas"), { width: 800, height: 600 });
      canvas.getContext("2d").fillRect(100, 100, 300, 200);
      const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.8));
      return [...new Uint8Array(await blob.arrayBuffer())];
    }),
  );
