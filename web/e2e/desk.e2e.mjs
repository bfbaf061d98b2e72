// The call desk on the real program: three pieces of work by keyboard alone,
// counted in keys, and what the desk must keep when others work beside it.
import { axe, check, language, must, open, shot, signIn } from "./harness.mjs";
import { openHouse } from "./seed/house.mjs";

const words = {
  en: {
    ticket: (n) => `Ticket ${n}`,
    openIt: /^Open ticket (\d+\/\d\d)/,
    stopped: "The pump has stopped, the water is at half",
    sign: "No w",
    advice: "Switch off at the board. Nobody touches the pump.",
    onTheWay: "The fuse is black",
    forWhom: "He comes at four",
    mended: "New fuse, water back",
    learned: "Leave a spare fuse with the caretaker",
    question: "May they eat pawpaw leaves?",
    answer: "Yes, washed, never salted",
    settledAtOnce: /Settled at once as ticket/,
    worse: "The rain comes early this year",
    yours: "Please ring them today",
    done: {
      taken: "is in your hands.",
      noted: "Noted on",
      waits: "waits.",
      settled: "settled.",
      assessed: "assessed.",
      handed: "handed over.",
    },
    thread: [
      "settled it",
      "waiting on the electrician",
      "noted",
      "took it in hand",
      "opened it after a call",
    ],
  },
  fr: {
    ticket: (n) => `Dossier ${n}`,
    openIt: /^Ouvrir le dossier (\d+\/\d\d)/,
    stopped: "La pompe est arrêtée, l'eau est à la moitié",
    sign: "Plus",
    advice: "Couper au tableau. Personne ne touche la pompe.",
    onTheWay: "Le fusible est noir",
    forWhom: "Il vient à quatre heures",
    mended: "Nouveau fusible, l'eau est revenue",
    learned: "Laisser un fusible au soigneur",
    question: "Peuvent-ils manger des feuilles de papaye ?",
    answer: "Oui, lavées, jamais salées",
    settledAtOnce: /Réglé tout de suite\s: dossier/,
    worse: "La pluie vient tôt cette année",
    yours: "Appelez-les aujourd'hui",
    done: {
      taken: "est entre vos mains.",
      noted: "Noté sur",
      waits: "en attente.",
      settled: "réglé.",
      assessed: "évalué.",
      handed: "confié.",
    },
    thread: [
      "l’a réglé",
      "en attente de l’électricien",
      "a noté",
      "l’a pris en main",
      "l’a ouvert après un échange",
    ],
  },
};

export async function desk(binary) {
  const house = await openHouse(binary);
  try {
    for (const lang of ["en", "fr"]) {
      await pieces(house, lang);
      await marks(house, lang);
    }
    await wrongInput(house);
    await cutOff(house);
    await looks(house);
    await beside(house);
    await keys(house);
  } finally {
    await house.close();
  }
}

// A keyboard that counts: keys that move or choose, and letters of what is said.
function typist(page) {
  const count = { keys: 0, letters: 0 };
  return {
    count,
    press: async (...names) => {
      for (const name of names) {
        count.keys++;
        await page.keyboard.press(name);
      }
    },
    type: async (text) => {
      count.letters += text.length;
      await page.keyboard.type(text);
    },
    told: (what) => console.log(`      ${what}: ${count.keys} keys and ${count.letters} letters`),
  };
}

async function atDesk(house, lang = "en", who = "advisor") {
  const opened = await open("desk");
  await signIn(opened.page, house.base, house.people[who]);
  if (lang === "fr") await language(opened.page, "Français");
  await opened.page.locator(".views-nav").waitFor();
  return opened;
}

const focused = (page, selector) => page.waitForFunction((s) => document.activeElement?.matches(s), selector);

async function pieces(house, lang) {
  const say = words[lang];

  await check(
    `desk ${lang}: a stopped pump becomes a ticket, is worked and settled, by keyboard`,
    async () => {
      const { page, context, troubles } = await atDesk(house, lang);
      const keyboard = typist(page);
      await keyboard.press("F2");
      await keyboard.type("rose ng");
      await keyboard.press("Enter");
      await focused(page, ".call-said textarea");
      await page.locator(".brief-line").getByText("Rose Ngassa").first().waitFor();
      await keyboard.type(say.stopped);
      await keyboard.press("Tab");
      await keyboard.type(say.sign);
      await page.locator(".card-walk").waitFor();
      await keyboard.press("Tab");
      await focused(page, ".card-choices button");
      // Nobody hurt, nobody in the water, few gasp; the water stands at 80 cm; the well is low.
      await keyboard.press("2", "2", "2");
      await keyboard.type("80");
      await keyboard.press("Enter", "1");
      await focused(page, ".card-end h3");
      await page
        .locator(".card-end")
        .getByText("Personne ne descend dans le puits", { exact: false })
        .waitFor();
      await keyboard.press("Tab", "Tab", "Tab", "Tab", "Tab");
      await focused(page, ".card-walk ~ .field textarea");
      await keyboard.type(say.advice);
      await shot(page, `desk-call-${lang}`);
      await axe(page, `call note ${lang}`);
      await keyboard.press("Control+Enter");
      const link = page.getByRole("link", { name: say.openIt });
      await link.waitFor();
      const number = say.openIt.exec(await link.textContent())?.[1];
      await keyboard.press("Enter");
      const heading = page.getByRole("heading", { name: say.ticket(number) });
      await heading.waitFor();
      await focused(page, ".pane-head h2");
      await keyboard.press("t");
      await page.getByText(`${number} ${say.done.taken}`).waitFor();
      await keyboard.press("n");
      await focused(page, ".move-form *");
      await keyboard.type(say.onTheWay);
      await keyboard.press("Control+Enter");
      await page.getByText(`${say.done.noted} ${number}`).waitFor();
      await keyboard.press("w", "ArrowDown", "ArrowDown", "ArrowDown", "Tab");
      await keyboard.type(say.forWhom);
      await keyboard.press("Control+Enter");
      await page.getByText(`${number} ${say.done.waits}`).waitFor();
      await shot(page, `desk-ticket-${lang}`);
      await keyboard.press("s");
      await focused(page, ".move-form *");
      await keyboard.type(say.mended);
      await keyboard.press("Tab");
      await keyboard.type(say.learned);
      await shot(page, `desk-settle-${lang}`);
      await keyboard.press("Control+Enter");
      await page.getByText(`${number} ${say.done.settled}`).waitFor();
      await page.locator(".event").nth(4).waitFor();
      const thread = await page.locator(".event-what").allTextContents();
      for (const [i, part] of say.thread.entries()) must(thread[i]?.includes(part), `${i}: ${thread[i]}`);
      await axe(page, `settled ticket ${lang}`);
      keyboard.told("a stopped pump");
      must(keyboard.count.keys < 60, `${keyboard.count.keys} keys`);
      must(real(troubles).length === 0, troubles.join("\n"));
      await context.close();
    },
  );

  await check(`desk ${lang}: a simple question is answered and settled in one step`, async () => {
    const { page, context } = await atDesk(house, lang);
    const keyboard = typist(page);
    await keyboard.press("F2");
    await keyboard.type("eposi");
    await keyboard.press("Enter");
    await focused(page, ".call-said textarea");
    await keyboard.type(say.question);
    await keyboard.press("Tab", "Tab");
    await keyboard.type(say.answer);
    await keyboard.press("F9", "Control+Enter");
    await page.getByText(say.settledAtOnce).waitFor();
    await shot(page, `desk-settled-at-once-${lang}`);
    await axe(page, `note sent ${lang}`);
    keyboard.told("a simple question");
    must(keyboard.count.keys < 60, `${keyboard.count.keys} keys`);
    await page.locator(".six").getByText(say.answer).waitFor();
    await context.close();
  });

  await check(`desk ${lang}: a reported ticket is assessed and handed over`, async () => {
    const { page, context } = await atDesk(house, lang);
    const keyboard = typist(page);
    await keyboard.press("3");
    await page.locator("a.row").first().waitFor();
    await keyboard.press("j", "Enter");
    await focused(page, ".pane-head h2");
    const number = (await page.locator("a.row-here .row-number").textContent()) ?? "";
    await keyboard.press("a");
    await focused(page, ".move-form *");
    await keyboard.press("ArrowUp", "Tab", "Tab", "Tab");
    await keyboard.type(say.worse);
    await shot(page, `desk-assess-${lang}`);
    await axe(page, `assess ${lang}`);
    await keyboard.press("Control+Enter");
    await page.getByText(`${number} ${say.done.assessed}`).waitFor();
    await keyboard.press("h");
    await focused(page, ".move-form *");
    await keyboard.type("Tende");
    await keyboard.press("Tab");
    await keyboard.type(say.yours);
    await keyboard.press("Control+Enter");
    await page.getByText(`${number} ${say.done.handed}`).waitFor();
    await page
      .locator(".pane-head")
      .getByText(/Tende Ojong/)
      .waitFor();
    keyboard.told("a reported ticket");
    await context.close();
  });
}

const markWords = {
  en: {
    yesterday: "Yesterday",
    word: /word of the caretaker/,
    passed: /^Mark as passed/,
    inPerson: "in person",
  },
  fr: { yesterday: "Hier", word: /parole du soigneur/, passed: /^Valider/, inPerson: "en personne" },
};

// What is marked from the brief, on a farm of each language.
async function marks(house, lang) {
  const say = markWords[lang];
  const farm = { en: "Lower Ridge", fr: "Kilomètre Huit" }[lang];
  const phone = { en: "237550050101", fr: "237550050809" }[lang];

  await check(`desk ${lang}: a farm is found by phone, a milestone and a module are marked`, async () => {
    const { page, context } = await atDesk(house, lang);
    const other = await colleague(house);
    const at = (await other("GET", `/api/search?q=${encodeURIComponent(farm)}`)).items[0].farm_id;
    const marked = async (kind) =>
      (await other("GET", `/api/farms/${at}/events?limit=200`)).items.filter(
        (e) => e.kind === kind && e.person_id === house.people.advisor.id,
      );
    await page.keyboard.press("F2");
    await page.keyboard.type(phone);
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { level: 1, name: farm }).waitFor();
    await page.locator(".six").waitFor();
    await page.keyboard.press("Escape");
    await page.keyboard.press("m");
    await focused(page, ".more-room .button-plain");
    await page.keyboard.press("Enter");
    const dialog = page.getByRole("dialog");
    await dialog.getByRole("button", { name: say.yesterday }).press("Enter");
    await dialog.getByRole("radio", { name: say.word }).press("Space");
    await shot(page, `desk-milestone-${lang}`);
    await axe(page, `milestone ${lang}`);
    await page.keyboard.press("Enter");
    await dialog.waitFor({ state: "hidden" });
    const [milestone] = await marked("milestone");
    const yesterday = new Date(Date.now() - 86_400_000 + 3_600_000).toISOString().slice(0, 10);
    must(milestone?.data.grade === "word" && milestone.on === yesterday, JSON.stringify(milestone));

    await page.keyboard.press("t");
    await page.locator(".more-room").getByRole("button", { name: say.passed }).first().press("Enter");
    await dialog.getByRole("radio", { name: say.inPerson }).waitFor();
    await shot(page, `desk-module-${lang}`);
    await axe(page, `module ${lang}`);
    await dialog.locator("button[type=submit]").press("Enter");
    await dialog.waitFor({ state: "hidden" });
    const [module] = await marked("module");
    must(module?.data.how === "in-person", JSON.stringify(module));
    await context.close();
  });
}

// The note of a farm, begun.
async function note(page, farm, text) {
  await page.keyboard.press("F2");
  await page.keyboard.type(farm);
  await page.locator(".find-option").first().waitFor();
  await page.keyboard.press("Enter");
  await focused(page, ".call-said textarea");
  await page.keyboard.type(text);
}

async function wrongInput(house) {
  await check("desk: what cannot be right is said at its field, and nothing typed is lost", async () => {
    const { page, context } = await atDesk(house);
    await note(page, "market pond", " ");
    await page.keyboard.press("Control+Enter");
    await page.locator(".call-said .field-error").waitFor();
    await focused(page, ".call-said textarea");
    await page.locator(".call-said textarea").fill("x".repeat(20_000));
    await page
      .locator(".call-said")
      .getByText(/No more than [\d,]+ characters fit here/)
      .waitFor();
    await axe(page, "a note that is too long");
    await page.locator(".call-said textarea").fill("They ask when to grade");
    await page.getByRole("button", { name: "Add a promise" }).press("Enter");
    await page.locator(".promise-fields input[type=date]").fill("2001-01-01");
    await page.locator(".promise-fields input[type=text]").fill("Say when to grade");
    await page.keyboard.press("Control+Enter");
    await page.getByText("Choose a day from today to a year ahead.").waitFor();
    await focused(page, ".promise-fields input[type=date]");
    must(
      (await page.locator(".call-said textarea").inputValue()) === "They ask when to grade",
      "what was written is gone",
    );
    await shot(page, "desk-note-wrong");
    await page.keyboard.press("Escape");
    await page.keyboard.press("m");
    await focused(page, ".more-room .button-plain");
    await page.keyboard.press("Enter");
    const dialog = page.getByRole("dialog");
    await dialog.locator("input[type=date]").fill("2099-01-01");
    await dialog.locator("textarea").fill("Seen from the road");
    await dialog.locator("button[type=submit]").press("Enter");
    await dialog.locator(".field-error").waitFor();
    must((await dialog.locator("textarea").inputValue()) === "Seen from the road", "the note is gone");
    await shot(page, "desk-milestone-wrong");
    await axe(page, "a milestone to come");
    await context.close();
  });
}

// The network goes, then the session: the note stays, and is there once.
async function cutOff(house) {
  await check("desk: a note outlives a lost network and a session that ended", async () => {
    const { page, context } = await atDesk(house);
    const other = await colleague(house);
    const said = "The gutter is down";
    await note(page, "river side", said);
    let answers = 0;
    await page.route("**/api/calls", async (route) => {
      if (route.request().method() !== "POST") return route.fallback();
      await route.fetch();
      answers++;
      return route.abort();
    });
    await page.keyboard.press("Control+Enter");
    await page.getByText("No answer came back.").first().waitFor();
    must((await page.locator(".call-said textarea").inputValue()) === said, "the note is gone");
    await shot(page, "desk-no-network");
    await page.unroute("**/api/calls");
    await page.route("**/api/**", (route) =>
      route.fulfill({ status: 401, contentType: "application/problem+json", body: '{"code":"signed-out"}' }),
    );
    await page.keyboard.press("Control+Enter");
    await page.getByText("You were signed out. Sign in to go on where you were.").waitFor();
    await axe(page, "signed out");
    await shot(page, "desk-signed-out");
    await page.unroute("**/api/**");
    await signIn(page, house.base, house.people.advisor);
    await page.goto(`${house.base}/desk`);
    await page.locator(".views-nav").waitFor();
    await note(page, "river side", "");
    await page.waitForFunction((s) => document.querySelector(".call-said textarea")?.value === s, said);
    await page.keyboard.press("Control+Enter");
    await page.getByText("Noted.").waitFor();
    const farm = (await other("GET", "/api/search?q=river")).items[0].farm_id;
    const calls = (await other("GET", `/api/calls?farm=${farm}`)).items.filter((c) => c.said === said);
    must(answers === 1 && calls.length === 1, `${calls.length} notes of one call`);
    await context.close();
  });
}

// A refresh without a session is answered 401, which browsers log.
const real = (troubles) => troubles.filter((t) => !/status of 401/.test(t));

async function looks(house) {
  await check(
    "desk: the brief and the queue fit 1366x768 without scrolling, light and dark, in both languages",
    async () => {
      for (const [lang, theme] of [
        ["en", "light"],
        ["fr", "dark"],
      ]) {
        const { page, context } = await atDesk(house, lang);
        await page.evaluate((t) => {
          document.documentElement.dataset.theme = t;
        }, theme);
        await page.keyboard.press("2");
        await page.locator("a.row").first().waitFor();
        await page.keyboard.press("j");
        await page.keyboard.press("Enter");
        await focused(page, ".pane-head h2");
        await fits(page, `queue ${lang}`);
        await shot(page, `desk-queue-${theme}-${lang}`);
        await axe(page, `queue ${theme} ${lang}`);
        await page.keyboard.press("F2");
        await page.keyboard.type("bassin du quai");
        await page.locator(".find-option").first().waitFor();
        await shot(page, `desk-find-${theme}-${lang}`);
        await axe(page, `find ${theme} ${lang}`);
        await page.keyboard.press("Enter");
        await page.locator(".six").waitFor();
        await focused(page, ".call-said textarea");
        await page.keyboard.press("F8");
        await fits(page, `brief ${lang}`);
        await insideFits(page, ".six", ".notebook");
        await shot(page, `desk-brief-${theme}-${lang}`);
        await axe(page, `brief ${theme} ${lang}`);
        await page.keyboard.press("F9");
        await page.keyboard.press("F9");
        await page.keyboard.press("Escape");
        await page.keyboard.press("m");
        await focused(page, ".more-room button");
        await shot(page, `desk-milestones-${theme}-${lang}`);
        await fits(page, `milestones ${lang}`);
        await axe(page, `milestones ${theme} ${lang}`);
        await page.goto(`${house.base}/desk/promises?view=call-backs`);
        await page.locator(".rows").waitFor();
        await page.evaluate((t) => {
          document.documentElement.dataset.theme = t;
        }, theme);
        await page.locator("a.row, .empty").first().waitFor();
        await shot(page, `desk-promises-${theme}-${lang}`);
        await axe(page, `promises ${theme} ${lang}`);
        await context.close();
      }
    },
  );
}

async function fits(page, what) {
  const over = await page.evaluate(() => ({
    down: document.documentElement.scrollHeight - innerHeight,
    across: document.documentElement.scrollWidth - innerWidth,
  }));
  must(over.down <= 0 && over.across <= 0, `${what} scrolls: ${JSON.stringify(over)}`);
}

async function insideFits(page, inner, outer) {
  const over = await page.evaluate(
    ([i, o]) => {
      const bottom = (s) => document.querySelector(s).getBoundingClientRect().bottom;
      const note = document.querySelector(".call-fields");
      return { six: bottom(i) - bottom(o), note: note.scrollHeight - note.clientHeight };
    },
    [inner, outer],
  );
  must(over.six <= 0 && over.note <= 0, `inside scrolls: ${JSON.stringify(over)}`);
}

// What others do while one works: they go by the API, as another desk does.
async function colleague(house, who = "second") {
  const { login, password } = house.people[who];
  const ask = async (method, path, body, headers = {}) => {
    const answer = await fetch(house.base + path, {
      method,
      headers: { "Content-Type": "application/json", Origin: house.base, ...headers },
      ...(body ? { body: JSON.stringify(body) } : {}),
    });
    const text = await answer.text();
    must(answer.ok, `${method} ${path}: ${answer.status} ${text}`);
    return JSON.parse(text);
  };
  const { access_token } = await ask("POST", "/api/sign-in", { login, password });
  return (method, path, body, headers) =>
    ask(method, path, body, { Authorization: `Bearer ${access_token}`, ...headers });
}

// Comes back to the page, which is when a list is read again before its time.
const comeBack = (page) => page.evaluate(() => document.dispatchEvent(new Event("visibilitychange")));

async function beside(house) {
  await check("desk: the queue does not move when a colleague opens a ticket", async () => {
    const { page, context } = await atDesk(house);
    const other = await colleague(house);
    await page.keyboard.press("2");
    await page.locator("a.row").first().waitFor();
    const before = await page.locator(".row-number").allTextContents();
    const farm = (await other("GET", "/api/search?q=hillside")).items[0].farm_id;
    await other("POST", "/api/tickets", {
      farm_id: farm,
      title: "Someone fell from the ladder",
      impact: "high",
      time_to_loss: "hours",
      danger: true,
      origin: "visit",
    });
    await comeBack(page);
    const show = page.getByRole("button", { name: /1 new ticket/ });
    await show.waitFor();
    must(
      JSON.stringify(await page.locator(".row-number").allTextContents()) === JSON.stringify(before),
      "the queue moved",
    );
    await shot(page, "desk-new-ticket");
    await axe(page, "new ticket announced");
    await page.keyboard.press("g");
    await page.getByText("Someone fell from the ladder").waitFor();
    must(
      (await page.locator(".row").first().textContent())?.includes("person in danger"),
      "danger is not on top",
    );
    await context.close();
  });

  await check("desk: what a colleague does is seen at once, and who else has the ticket open", async () => {
    const { page, context, troubles } = await atDesk(house);
    const other = await colleague(house);
    const farm = (await other("GET", "/api/search?q=hillside")).items[0].farm_id;
    const opening = {
      farm_id: farm,
      title: "The gate hangs",
      impact: "low",
      time_to_loss: "week",
      origin: "visit",
    };
    const { id, number } = await other("POST", "/api/tickets", opening);
    await page.keyboard.press("F2");
    await page.keyboard.type(number);
    await page.locator(".find-option").first().waitFor();
    await page.keyboard.press("Enter");
    await focused(page, ".pane-head h2");
    await other("POST", `/api/tickets/${id}/here`, { leaving: false });
    await page.getByText("Abel Lyonga has this open.").waitFor({ timeout: 5_000 });
    // Sooner than the twenty seconds after which a desk looks by itself.
    await other("POST", `/api/tickets/${id}/say`, { text: "Hinge is on its way", by_text: true });
    await page.getByText("Hinge is on its way").first().waitFor({ timeout: 5_000 });
    await page.getByText("not sent: no gateway is set up").waitFor({ timeout: 5_000 });
    await shot(page, "desk-live");
    await axe(page, "a colleague beside");
    await page.getByRole("button", { name: "Send again" }).click();
    await page.getByText("No gateway is set up. Ask the administrator, or call.").waitFor();
    await other("POST", `/api/tickets/${id}/here`, { leaving: true });
    await page.getByText("Abel Lyonga has this open.").waitFor({ state: "detached", timeout: 5_000 });
    must(troubles.filter((t) => !/status of (401|409)/.test(t)).length === 0, troubles.join("\n"));
    await context.close();
  });

  await check("desk: a ticket that changed meanwhile shows both versions, and nothing is lost", async () => {
    const { page, context, troubles } = await atDesk(house);
    const other = await colleague(house);
    const { items } = await other("GET", "/api/tickets?nobody=true&limit=1");
    const [ticket] = items;
    await page.keyboard.press("F2");
    await page.keyboard.type(ticket.number);
    await page.locator(".find-option").first().waitFor();
    await page.keyboard.press("Enter");
    await focused(page, ".pane-head h2");
    await page.keyboard.press("s");
    await focused(page, ".move-form *"); // before the form stands, letters are keys of the desk
    await page.keyboard.type("The ladder is tied now");
    const { version } = await other("GET", `/api/tickets/${ticket.id}`);
    await other("POST", `/api/tickets/${ticket.id}/move`, { to: "in-hand" }, { "If-Match": `"${version}"` });
    await page.keyboard.press("Control+Enter");
    const conflict = page.getByRole("region", { name: "Someone was faster" });
    await conflict.getByText("Abel Lyonga took it in hand").waitFor();
    must(await conflict.getByText("The ladder is tied now").isVisible(), "what was written is gone");
    await shot(page, "desk-conflict");
    await axe(page, "conflict");
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await page.getByText(`${ticket.number} settled.`).waitFor();
    must(troubles.filter((t) => !/status of (401|412)/.test(t)).length === 0, troubles.join("\n"));
    await context.close();
  });

  await check("desk: a note begun is there after the browser went away", async () => {
    const { page, context } = await atDesk(house);
    await page.keyboard.press("F4");
    await focused(page, ".call-said textarea");
    await page.keyboard.type("Someone from the hill, snails outside the walls");
    await page.waitForTimeout(200);
    await page.reload();
    await page.getByText(/You began this note/).waitFor();
    await page.keyboard.press("F2");
    await page.keyboard.type("hillside");
    await page.locator(".find-option").first().waitFor();
    await page.keyboard.press("Enter");
    await page.locator(".six").waitFor();
    await page.waitForFunction(() =>
      document.querySelector(".call-said textarea")?.value.startsWith("Someone from the hill"),
    );
    await page.keyboard.press("Control+Enter");
    await page.getByText("Noted.").waitFor();
    await page.locator(".six").waitFor();
    await context.close();
  });

  await check("desk: a promise is made on a call, stands on the list and is kept by key", async () => {
    const { page, context } = await atDesk(house);
    await page.keyboard.press("F2");
    await page.keyboard.type("old coffee");
    await page.locator(".find-option").first().waitFor();
    await page.keyboard.press("Enter");
    await focused(page, ".call-said textarea");
    await page.keyboard.type("They ask for seed");
    await page.getByRole("button", { name: "Add a promise" }).press("Enter");
    await page.keyboard.press("Tab");
    await page.keyboard.type("Send the seed list");
    await page.keyboard.press("Control+Enter");
    await page.getByText("Noted.").waitFor();
    await page.keyboard.press("p");
    await page.locator(".views-nav").waitFor();
    await page.keyboard.press("2");
    await page.getByText("Send the seed list").waitFor();
    await page.keyboard.press("j");
    await shot(page, "desk-promises-mine");
    await axe(page, "promises mine");
    await page.keyboard.press("x");
    await page.getByText("no longer in this list").waitFor();
    await context.close();
  });
}

async function keys(house) {
  await check("desk: F1 lists the keys, single letters can be switched off, arrows go on", async () => {
    const { page, context } = await atDesk(house);
    await page.keyboard.press("2");
    await page.locator("a.row").first().waitFor();
    await page.keyboard.press("F1");
    const help = page.getByRole("dialog", { name: "Keys" });
    for (const line of ["Find a farm, a person or a ticket", "Next in the list", "Show: Overdue"]) {
      await help.getByRole("rowheader", { name: line, exact: true }).waitFor();
    }
    await shot(page, "desk-keys");
    await axe(page, "keys of the desk");
    await help.getByLabel("Use single letters as keys").uncheck();
    await page.keyboard.press("Escape");
    await help.waitFor({ state: "hidden" });
    await page.keyboard.press("j");
    must(!(await page.evaluate(() => document.activeElement?.matches("a.row"))), "J still moves");
    await page.locator("a.row").first().focus();
    await page.keyboard.press("ArrowDown");
    must(
      await page.evaluate(() => document.querySelectorAll("a.row")[1] === document.activeElement),
      "the arrow does not move",
    );
    await context.close();
  });

  await check("desk: the focus goes through the page in the order in which one reads", async () => {
    const { page, context } = await atDesk(house);
    await page.keyboard.press("2");
    await page.locator("a.row").first().waitFor();
    await page.evaluate(() => document.querySelector("h1")?.focus());
    const order = [];
    for (let i = 0; i < 10; i++) {
      await page.keyboard.press("Tab");
      order.push(await page.evaluate(() => document.activeElement?.closest("[class]")?.className ?? ""));
    }
    must(order[0] === "branches" && order[1] === "find-box", `the head comes first: ${order}`);
    must(order.indexOf("row") > order.indexOf("views-nav"), `views come before rows: ${order}`);
    await context.close();
  });
}
