// What the tests of the firm's pages share: people who stay signed in, and the
// looks in which every page is tried.
import { axe, check, language, must, open, shot, signIn } from "./harness.mjs";

/** noSideways fails where the page is wider than the screen. */
export async function noSideways(page, name) {
  const [wide, room] = await page.evaluate(() => [document.documentElement.scrollWidth, window.innerWidth]);
  must(wide <= room, `${name} is ${wide} px wide on a screen of ${room}`);
}

const sessions = new Map();

/**
 * enter is a page of somebody of the house, signed in; the same person on the
 * same screen goes on in the same page, for a sign-in costs the server a second.
 */
export async function enter(house, who, size = "desk", options = {}) {
  const key = JSON.stringify([house.base, who, size, options]);
  const known = sessions.get(key);
  if (known) {
    known.troubles.length = 0;
    return known;
  }
  const opened = await open(size, options);
  await signIn(opened.page, house.base, house.people[who]);
  sessions.set(key, opened);
  return opened;
}

/** leaveAll ends every session that enter began. */
export async function leaveAll() {
  for (const { context } of sessions.values()) await context.close();
  sessions.clear();
}

/** closed waits until no dialog is open any more. */
export async function closed(page) {
  await page.locator("dialog[open]").waitFor({ state: "detached" });
}

/** noTrouble fails on what the page complained of; a refresh without a session is answered 401, which browsers log. */
export function noTrouble(troubles) {
  const real = troubles.filter((t) => !/status of 40[14]|HTTP response code \(404\)/.test(t));
  must(real.length === 0, real.join("\n"));
}

// Every pair of size, ground and language comes up once.
const looks = [
  ["desk", "light", "English"],
  ["desk", "dark", "Français"],
  ["phone", "light", "Français"],
  ["phone", "dark", "English"],
];

/**
 * everyLook holds pages against axe and the width of the screen, and keeps
 * their pictures. `prepare` gives a page and its views: how to go there, and
 * how to tell that the page is there.
 */
export async function everyLook(part, prepare) {
  for (const [size, colorScheme, lang] of looks) {
    await check(`${part}: every page is accessible (${size}, ${colorScheme}, ${lang})`, async () => {
      const { page, troubles, views } = await prepare(size, colorScheme, lang);
      for (const { name, go, there } of views) {
        await go();
        await language(page, lang);
        await there();
        await page.waitForLoadState("networkidle");
        const told = `${part}-${name}-${size}-${colorScheme}-${lang.slice(0, 2).toLowerCase()}`;
        await shot(page, told, { fullPage: true });
        await axe(page, told);
        await noSideways(page, told);
      }
      noTrouble(troubles);
    });
  }
}

/** today is the date in the zone of the house, as a date field takes it. */
export function today() {
  return new Intl.DateTimeFormat("en-CA", { timeZone: "Africa/Douala" }).format(new Date());
}
