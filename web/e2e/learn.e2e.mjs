// A caretaker learns modules whole and without a network: every card, read
// aloud, every kind of question, one answered wrongly and explained.
import { axe, check, must, shot } from "./harness.mjs";
import {
  arrived,
  asStaff,
  cached,
  caretaker,
  enrolled,
  sent,
  sideways,
  small,
  unlock,
} from "./phone.e2e.mjs";

const words = {
  en: {
    listen: "Listen",
    stop: "Stop",
    passed: "Passed the questions",
    right: "Right.",
    wrong: /Not right\. Right is:/,
    next: "Next",
    kept: /kept on this phone, not sent yet/,
    sent: "All sent",
  },
  fr: {
    listen: "Écouter",
    stop: "Arrêter",
    passed: "Questions réussies",
    right: "C’est juste.",
    wrong: /Ce n’est pas juste\. La bonne réponse/,
    next: "Suivant",
    kept: /sur ce téléphone, pas encore envoyée/,
    sent: "Tout est envoyé",
  },
};

const kinds = ["one", "order", "picture", "sum"];
const mostModules = 4;

/** learn runs these tests in a house, in both languages. */
export async function learn(house) {
  const staff = await asStaff(house, "manager");
  await whole(house, staff, await caretaker(staff, "Lower Ridge"), "en");
  await whole(house, staff, await caretaker(staff, "Bassin du Quai"), "fr");
}

// A phone that has a voice for each language, and tells so late, as phones do.
function voices() {
  const said = [];
  const late = new EventTarget();
  let known = [];
  const speech = Object.assign(late, {
    getVoices: () => known,
    speak: (utterance) => said.push(utterance.text),
    cancel: () => undefined,
  });
  Object.defineProperty(globalThis, "speechSynthesis", { value: speech });
  globalThis.SpeechSynthesisUtterance = class {
    constructor(text) {
      this.text = text;
    }
  };
  globalThis.said = said;
  setTimeout(() => {
    known = [{ lang: "en-GB" }, { lang: "fr-FR" }];
    late.dispatchEvent(new Event("voiceschanged"));
  }, 300);
}

/** broughtAhead waits until the modules are on this phone, and answers them by their address. */
export async function broughtAhead(page) {
  for (const until = Date.now() + 30_000; ; await page.waitForTimeout(200)) {
    const lessons = await lessonsOf(page);
    if (Object.keys(lessons).length > 0) return lessons;
    must(Date.now() < until, "the modules are not brought ahead");
  }
}

const lessonsOf = (page) =>
  page.evaluate(async () => {
    const db = await new Promise((done) => {
      const asked = indexedDB.open("tendfold");
      asked.onsuccess = () => done(asked.result);
    });
    const kept = await new Promise((done) => {
      const all = db.transaction("kept").objectStore("kept").getAll();
      all.onsuccess = () => done(all.result);
    });
    db.close();
    const lessons = kept.filter((k) => /^\/api\/lessons\/[^/]+$/.test(k.key)).map((k) => k.body.body);
    const drawings = kept.filter((k) => /^\/api\/lessons\/[^/]+\/drawings$/.test(k.key));
    if (drawings.length === 0) return {};
    return Object.fromEntries(
      lessons.flatMap((l) => l.modules.map((m) => [`/today/module/${l.enterprise}/${m.key}`, m])),
    );
  });

async function whole(house, staff, who, lang) {
  const spoken = words[lang];
  await check(
    `learn ${lang}: modules whole without a network, each card and each kind of question`,
    async () => {
      const { page, context, troubles } = await enrolled(house, who);
      await page.addInitScript(voices);
      await cached(page);
      await page.goto(`${house.base}/today/modules`);
      await unlock(page);
      const lessons = await broughtAhead(page);
      const addresses = await page
        .locator("main a[href^='/today/module/']")
        .evaluateAll((all) => all.map((a) => a.getAttribute("href")));
      await context.setOffline(true);
      const seen = new Set();
      let done = 0;
      for (const address of addresses.filter((a) => lessons[a]).slice(0, mostModules)) {
        await page.goto(`${house.base}${address}`);
        await unlock(page);
        await cards(page, lessons[address], spoken, lang, done === 0);
        await questions(page, address, lessons[address], spoken, lang, seen, done === 0);
        done++;
        if (kinds.every((kind) => seen.has(kind))) break;
      }
      must(
        kinds.every((kind) => seen.has(kind)),
        `only ${[...seen]} were asked in ${done} modules`,
      );
      await sent(page, spoken.kept);
      await context.setOffline(false);
      await sent(page, spoken.sent);
      const rounds = await arrived(staff, who.farm, "answers", done);
      must(
        rounds.length === done && rounds.every((r) => r.data.told),
        JSON.stringify(rounds.map((r) => r.data)),
      );
      const real = troubles.filter((t) => !/status of 40[14]|ERR_INTERNET_DISCONNECTED/.test(t));
      must(real.length === 0, real.join("\n"));
      await context.close();
    },
  );
}

const held = async (page, name) => {
  await axe(page, name);
  must((await small(page)).length === 0, `${name}: too small: ${(await small(page)).join("; ")}`);
  must((await sideways(page)) <= 0, `${name} scrolls sideways`);
};

async function cards(page, lesson, spoken, lang, look) {
  await page.locator("main a[href$='/card/1']").click();
  for (const [n, card] of lesson.cards.entries()) {
    await page.getByRole("heading", { level: 1, name: card.title }).waitFor();
    await page.getByText(card.text).waitFor();
    await page.locator(".drawing svg, .drawing img, svg.drawing").first().waitFor();
    await page.getByRole("button", { name: spoken.listen }).click();
    const said = await page.evaluate(() => globalThis.said.at(-1));
    must(said.includes(card.text), `it read "${said}" aloud`);
    await page.getByRole("button", { name: spoken.stop }).click();
    if (look && n === 0) {
      await held(page, `card ${lang}`);
      await shot(page, `learn-card-${lang}`, { fullPage: true });
      await page.setViewportSize({ width: 320, height: 640 });
      must((await sideways(page)) <= 0, "a card scrolls sideways at 320 px");
      await page.setViewportSize({ width: 360, height: 640 });
    }
    await page.locator("main .phone-rows a").first().click();
  }
}

async function questions(page, address, lesson, spoken, lang, seen, failOne) {
  await page.locator("main a[href$='/questions']").click();
  await page.locator(".lesson-progress").waitFor();
  let spoilt = !failOne;
  for (let n = 0; n < lesson.draw; n++) {
    const heading = page.locator(".ask h2");
    const asked = await heading.textContent();
    const question = lesson.questions.find((q) => q.ask === asked);
    must(question, `"${asked}" is no question of ${address}`);
    const look = !seen.has(question.kind);
    seen.add(question.kind);
    if (look) {
      await held(page, `a question, ${question.kind}, ${lang}`);
      await shot(page, `learn-ask-${question.kind}-${lang}`, { fullPage: true });
    }
    const wrongly = !spoilt && !question.safety;
    spoilt ||= wrongly;
    await answer(page, question, wrongly);
    await page.locator(".verdict", { hasText: wrongly ? spoken.wrong : spoken.right }).waitFor();
    if (wrongly) {
      await page.getByText(question.why, { exact: true }).waitFor();
      await held(page, `a wrong answer, ${lang}`);
      await shot(page, `learn-wrong-${lang}`, { fullPage: true });
    }
    await page.getByRole("button", { name: spoken.next }).click();
  }
  await page.getByRole("heading", { name: spoken.passed }).waitFor();
  if (failOne) {
    must(spoilt, "no question could be answered wrongly");
    await held(page, `what came of a round, ${lang}`);
    await shot(page, `learn-result-${lang}`, { fullPage: true });
  }
}

async function answer(page, question, wrongly) {
  const option = (key) =>
    page
      .locator(".ask")
      .getByRole("button", { name: question.options.find((o) => o.key === key).text, exact: true });
  if (question.kind === "sum") {
    await page.locator(".ask form input").fill(String(question.answer + (wrongly ? 1_000 : 0)));
    await page.locator(".ask-actions .button-main").click();
  } else if (question.kind === "order") {
    const keys = question.options.map((o) => o.key);
    for (const key of wrongly ? keys.reverse() : keys) await option(key).click();
    await page.locator(".ask-actions .button-main").click();
  } else {
    const wrong = question.options.find((o) => o.key !== question.right).key;
    await option(wrongly ? wrong : question.right).click();
  }
}
