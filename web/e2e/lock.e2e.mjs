// The lock of a phone: wiped and let in again with a full outbox, shared by
// two, taken off the list, opened in two tabs.
import { axe, check, enrolPhone, must, open, shot } from "./harness.mjs";
import { arrived, asStaff, caretaker, entriesOf, sent, tap } from "./phone.e2e.mjs";

const pin = "246810";
const screen = { width: 360, height: 640 };

async function enrolled(house, who) {
  const opened = await open("phone", { viewport: screen });
  await enrolPhone(opened.page, house.base, await who.secret(), pin);
  await opened.page.waitForURL("**/today");
  await opened.page.locator(".phone-age").waitFor();
  return opened;
}

async function type(page, digits) {
  await page.locator("form input").last().fill(digits);
  await page.locator("form button[type=submit]").click();
}

/** cached waits until the worker holds what opens a phone without a network. */
const cached = (page) =>
  page.waitForFunction(async () => {
    await navigator.serviceWorker.ready;
    const wanted = ["phone-pages", "lock-screen", "lock-en", "sealing", "wipe"];
    const paths = [];
    for (const key of await caches.keys()) {
      paths.push(...(await (await caches.open(key)).keys()).map((r) => r.url));
    }
    return wanted.every((part) => paths.some((p) => p.includes(part)));
  });

/** lies counts what this phone holds, by store. */
const lies = (page) =>
  page.evaluate(async () => {
    const db = await new Promise((done, no) => {
      const asked = indexedDB.open("tendfold");
      asked.onsuccess = () => done(asked.result);
      asked.onerror = () => no(asked.error);
    });
    const count = (store) =>
      new Promise((done) => {
        db.transaction(store).objectStore(store).count().onsuccess = (e) => done(e.target.result);
      });
    const out = {};
    for (const store of ["outbox", "kept", "phone", "sealed"]) out[store] = await count(store);
    db.close();
    return out;
  });

async function keepThree(page) {
  for (let n = 1; n <= 3; n++) {
    await page.goto(new URL("/today/could-not", page.url()).href);
    await type(page, pin);
    await tap(page, "Rain or flood");
    await sent(page, n === 1 ? "1 entry kept" : `${n} entries kept`);
  }
}

async function forgottenPin(house, staff, who) {
  await check(
    "lock: ten wrong PINs empty the phone, and a code sends all that was entered, once",
    async () => {
      const { page, context } = await enrolled(house, who);
      await cached(page);
      const before = (await entriesOf(staff, who.farm, "could-not")).length;
      await context.setOffline(true);
      await keepThree(page);
      must((await lies(page)).sealed === 3, "each entry must have its sealed twin");
      await page.goto(`${house.base}/today`);
      await page.getByRole("button", { name: "I forgot my PIN" }).click();
      await page.locator("main a[href^='tel:']").first().waitFor();
      await axe(page, "a forgotten PIN");
      await shot(page, "lock-forgot");
      await page.getByRole("button", { name: "I know my PIN" }).click();
      for (let n = 0; n < 10; n++) {
        await type(page, "000000");
        if (n < 9) await page.getByText(/That is not the PIN/).waitFor();
        await page.waitForFunction(() => !document.querySelector("form [aria-busy]"));
      }
      await page.getByText(/Too many wrong PINs/).waitFor();
      await shot(page, "lock-wiped");
      const left = await lies(page);
      must(
        left.outbox === 0 && left.kept === 0 && left.phone === 0 && left.sealed === 3,
        `the phone holds ${JSON.stringify(left)}`,
      );
      await context.setOffline(false);
      must((await entriesOf(staff, who.farm, "could-not")).length === before, "nothing can have come yet");
      const { code } = await staff.post(`/api/people/${who.person.person_id}/ways-in`, {
        purpose: "phone",
        kind: "code",
      });
      await page.goto(`${house.base}/enrol`);
      await page.locator("form input").first().fill(code);
      await type(page, pin);
      await page.waitForURL("**/today");
      await sent(page);
      const after = await arrived(staff, who.farm, "could-not", before + 3);
      must(after.length === before + 3, `${after.length - before} entries came of 3`);
      must((await lies(page)).sealed === 0, "what has come needs no twin");
      await context.close();
    },
  );
}

async function shared(house, who, other) {
  await check("lock: two people share a phone, each with a PIN and entries of their own", async () => {
    const { page, context } = await enrolled(house, who);
    await page.goto(`${house.base}/enrol#${await other.secret()}`);
    await type(page, "135791");
    await page.waitForURL("**/today");
    await page.goto(`${house.base}/today`);
    await page.getByRole("heading", { name: "Who are you?" }).waitFor();
    await axe(page, "who are you");
    await shot(page, "lock-who");
    await tap(page, who.person.name);
    await type(page, "135791");
    await page.getByText(/That is not the PIN/).waitFor();
    await type(page, pin);
    await page.waitForURL("**/today");
    await page.locator(".phone-age").waitFor();
    must((await lies(page)).phone === 2, "both must be enrolled");
    await context.close();
  });
}

async function revoked(house, staff, who) {
  await check("lock: a phone that the firm takes off its list empties itself", async () => {
    const { page, context } = await enrolled(house, who);
    const token = await staff.get(`/api/people/${who.person.person_id}/phones`);
    const newest = token.items[0];
    await staff.remove(`/api/people/${who.person.person_id}/phones/${newest.id}`);
    await page.evaluate(() => dispatchEvent(new Event("online")));
    await page.getByText(/no longer let in/).waitFor();
    const left = await lies(page);
    must(left.phone === 0 && left.kept === 0, JSON.stringify(left));
    await shot(page, "lock-revoked");
    await context.close();
  });
}

async function answers(house, staff, who) {
  await check("lock: an entry outlives answers of 503, 429 and 500, and two tabs send it once", async () => {
    const { page, context } = await enrolled(house, who);
    const before = (await entriesOf(staff, who.farm, "could-not")).length;
    const told = [503, 429, 500];
    await context.route("**/api/sync", async (route) => {
      const status = told.shift();
      if (!status) return route.fallback();
      await route.fulfill({ status, contentType: "application/problem+json", body: '{"code":"busy"}' });
    });
    await page.goto(`${house.base}/today/could-not`);
    await type(page, pin);
    await tap(page, "Rain or flood");
    await sent(page, "1 entry kept");
    const second = await context.newPage();
    await second.goto(`${house.base}/today`);
    await type(second, pin);
    for (const one of [page, second, page, second])
      await one.evaluate(() => dispatchEvent(new Event("online")));
    await sent(second);
    await arrived(staff, who.farm, "could-not", before + 1);
    must((await entriesOf(staff, who.farm, "could-not")).length === before + 1, "it must be there once");
    await context.close();
  });
}

/** lock runs these tests in a house. */
export async function lock(house) {
  const staff = await asStaff(house, "advisor");
  staff.remove = async (path) => {
    const { login, password } = house.people.advisor;
    const headers = { "Content-Type": "application/json", Origin: house.base };
    const session = await fetch(`${house.base}/api/sign-in`, {
      method: "POST",
      headers,
      body: JSON.stringify({ login, password }),
    });
    const { access_token } = await session.json();
    const answer = await fetch(house.base + path, {
      method: "DELETE",
      headers: { ...headers, Authorization: `Bearer ${access_token}` },
    });
    must(answer.ok, `${path}: ${answer.status}`);
  };
  const [one, two] = await people(staff);
  await forgottenPin(house, staff, one);
  await shared(house, one, two);
  await answers(house, staff, one);
  await revoked(house, staff, one);
}

// Two caretakers who read English, on farms of their own.
async function people(staff) {
  const { items } = await staff.get("/api/farms?limit=50");
  const out = [];
  for (const farm of items) {
    const { people: here } = await staff.get(`/api/farms/${farm.id}`);
    const known = here.find(
      (p) => p.language === "en" && !out.some((o) => o.person.person_id === p.person_id),
    );
    if (known) out.push(await caretaker(staff, farm.name));
    if (out.length === 2) return out;
  }
  throw new Error("the house has not two caretakers who read English");
}
