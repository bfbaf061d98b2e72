// Two months without a network, sent at once: about 900 entries and 60 photos
// over a line that loses answers. Rows are counted on the server.
import { front } from "./front.mjs";
import { check, enrolPhone, must, open, shot } from "./harness.mjs";
import { asStaff, cached, caretaker, enrolled, sent, unlock } from "./phone.e2e.mjs";

const days = 60;
const aDay = 15;

/**
 * written puts on the phone's disk what its forms would have in two months:
 * nobody presses 900 times in a test. The shapes are those of src/offline and
 * src/media; a photo is named by its entry and not yet linked to it.
 */
export const written = (page, days, aDay, photos = true) =>
  page.evaluate(
    async ({ days, aDay, photos }) => {
      const asked = indexedDB.open("tendfold");
      await new Promise((done) => {
        asked.onsuccess = done;
      });
      const all = (store) =>
        new Promise((done) => {
          const read = asked.result.transaction(store).objectStore(store).getAll();
          read.onsuccess = () => done(read.result);
        });
      const kept = (await all("kept")).find((k) => k.key === "/api/today");
      const [farm] = kept.body.body.farms;
      const [unit] = farm.units;
      const hex = (n, digits) => n.toString(16).padStart(digits, "0");
      const uuid = (ms, n) => {
        const chance = [...crypto.getRandomValues(new Uint8Array(8))].map((b) => hex(b, 2)).join("");
        return `${hex(ms, 12).slice(0, 8)}-${hex(ms, 12).slice(8)}-7${hex(n % 4096, 3)}-8${chance.slice(0, 3)}-${chance.slice(3, 15)}`;
      };
      const photo = async (n) => {
        const canvas = Object.assign(document.createElement("canvas"), { width: 640, height: 480 });
        const pen = canvas.getContext("2d");
        for (let i = 0; i < 700; i++) {
          pen.fillStyle = `hsl(${(i * 47 + n * 11) % 360} 60% 50%)`;
          pen.fillRect((i * 379) % 640, (i * 211) % 480, 9 + (i % 30), 9 + (i % 20));
        }
        const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.8));
        return new Uint8Array(await blob.arrayBuffer());
      };
      const kinds = [
        ["day", { deaths: 0, feed_kg: 1.5, watering: "once" }, "unit"],
        ["item", { item: "soil-clean", answer: "yes" }, "cycle"],
        ["cover", { percent: 60 }, "cycle"],
        ["work", { work: "read-cover" }, "cycle"],
        ["could-not", { reason: "rain" }, "farm"],
      ];
      const outbox = [];
      const media = [];
      for (let day = days - 1; day >= 0; day--) {
        for (let n = 0; n < aDay; n++) {
          const seq = outbox.length + 1;
          const ms = Date.now() - day * 86_400_000 - (aDay - n) * 60_000;
          const at = new Date(ms).toISOString();
          const [kind, plain, about] = kinds[n % kinds.length];
          const data = { ...plain };
          if (n === 1 && photos) {
            const bytes = await photo(day);
            const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
            const id = uuid(ms, seq + 2000);
            data.media = [id];
            media.push({
              id,
              person: kept.person,
              farm: farm.id,
              kind: "photo",
              entry: "",
              slot: `item ${day}`,
              what: "",
              type: "image/jpeg",
              bytes,
              size: bytes.length,
              sha256: [...sum].map((b) => hex(b, 2)).join(""),
              at,
              state: "kept",
            });
          }
          const id = uuid(ms, seq);
          outbox.push({
            id,
            person: kept.person,
            at,
            method: "POST",
            path: "/api/sync",
            what: `${kind} ${day}`,
            state: "kept",
            body: {
              id,
              farm_id: farm.id,
              ...(about === "unit" ? { unit_id: unit.id } : {}),
              ...(about === "cycle" ? { cycle_id: unit.cycle_id } : {}),
              kind,
              on: at.slice(0, 10),
              device_at: at,
              schema: 2,
              device_seq: seq,
              hlc: `${hex(ms, 12)}-0000-0badcafe`,
              data,
            },
          });
        }
      }
      localStorage.setItem("tendfold.media", "any");
      const tx = asked.result.transaction(["outbox", "media", "clock"], "readwrite");
      for (const entry of outbox) tx.objectStore("outbox").add(entry);
      for (const medium of media) tx.objectStore("media").add(medium);
      const clock = { ms: Date.now(), count: 0, node: "0badcafe", seq: outbox.length, ahead: 0 };
      tx.objectStore("clock").put({ ...clock, id: "this" });
      await new Promise((done, no) => {
        tx.oncomplete = done;
        tx.onabort = () => no(tx.error);
      });
      asked.result.close();
      return { entries: outbox.map((e) => e.id), photos: media.map((m) => m.id) };
    },
    { days, aDay, photos },
  );

/** onServer counts the entries and photos of a farm that the server has, by id. */
async function onServer(staff, farm) {
  const entries = new Map();
  const photos = new Map();
  for (let cursor = ""; ; ) {
    const page = await staff.get(
      `/api/farms/${farm.id}/events?limit=200${cursor && `&cursor=${encodeURIComponent(cursor)}`}`,
    );
    for (const entry of page.items) {
      entries.set(entry.id, (entries.get(entry.id) ?? 0) + 1);
      for (const m of entry.media ?? [])
        if (m.state === "kept") photos.set(m.id, (photos.get(m.id) ?? 0) + 1);
    }
    if (!page.next) return { entries, photos };
    cursor = page.next;
  }
}

export async function backlog(house) {
  const staff = await asStaff(house, "manager");
  await oneDay(house, await caretaker(staff, "Sandpit Corner"));
  await twoMonths(house, staff, await caretaker(staff, "Hillside"));
}

/**
 * aDaysBytes is what one day of entries, kept without a network, costs once
 * there is one: the entries, their receipts and the day as it is then, headers
 * included, over HTTP/1.1. `all` has signing in as well.
 */
export async function aDaysBytes(house, who) {
  const door = await front(house.base);
  const { page, context } = await open("phone");
  try {
    await enrolPhone(page, door.base, await who.secret());
    await page.locator(".phone-age").waitFor();
    await cached(page);
    await page.waitForLoadState("networkidle");
    await context.setOffline(true);
    await written(page, 1, aDay, false);
    await page.goto(`${door.base}/today`);
    await unlock(page);
    await sent(page, `${aDay} entries kept on this phone, not sent yet`);
    await page.waitForLoadState("networkidle");
    await page.waitForTimeout(500); // what was asked for without a network has failed
    door.log.length = 0;
    await context.setOffline(false);
    await sent(page);
    await page.waitForLoadState("networkidle");
    const sync = door.log.filter(({ path }) => /^\/api\/(sync|today)/.test(path));
    const sum = (some) =>
      some.reduce((all, one) => ({ up: all.up + one.up, down: all.down + one.down }), { up: 0, down: 0 });
    return { ...sum(sync), all: sum(door.log), log: door.log };
  } finally {
    await context.close();
    door.close();
  }
}

async function oneDay(house, who) {
  await check(
    "backlog: a day of fifteen entries costs at most 4 kB up and 4 kB down, the fresh day included",
    async () => {
      const { up, down, all, log } = await aDaysBytes(house, who);
      console.log(
        `      ${up} up, ${down} down; with signing in by the phone's key ${all.up} up, ${all.down} down`,
      );
      const asked = log.map((r) => `${r.method} ${r.path} ${r.up} up ${r.down} down`).join(", ");
      must(
        log.filter((r) => r.path === "/api/sync").length === 1,
        `one request for the day's entries: ${asked}`,
      );
      must(log.filter((r) => r.path.startsWith("/api/today")).length === 1, `the day is read once: ${asked}`);
      must(up <= 4_000 && down <= 4_000, `${up} bytes up, ${down} bytes down: ${asked}`);
    },
  );
}

async function twoMonths(house, staff, who) {
  await check(
    "backlog: two months of entries and photos come whole and once, though answers are lost",
    async () => {
      const { page, context } = await enrolled(house, who);
      await cached(page);
      await context.setOffline(true);
      const made = await written(page, days, aDay);
      must(
        made.entries.length === days * aDay && made.photos.length === days,
        "the phone must have written them",
      );
      await page.goto(`${house.base}/today`);
      await unlock(page);
      await sent(page, `${days * aDay} entries kept on this phone, not sent yet`);
      await shot(page, "backlog-kept");
      let asked = 0;
      let lost = 0;
      const every = (n) => async (route) => {
        const answer = await route.fetch();
        if (++asked % n !== 0) return route.fulfill({ response: answer });
        lost++;
        await route.abort();
      };
      await page.route("**/api/sync", every(3));
      await page.route("**/api/media/**", every(17));
      const from = performance.now();
      await context.setOffline(false);
      const go = setInterval(
        () => page.evaluate(() => dispatchEvent(new Event("online"))).catch(() => undefined),
        2_000,
      );
      try {
        await page.locator(".sending").getByText("All sent").waitFor({ timeout: 60_000 });
        const words = performance.now() - from;
        for (const until = Date.now() + 90_000; ; ) {
          const have = await onServer(staff, who.farm);
          if (have.photos.size >= days || Date.now() > until) break;
          await page.waitForTimeout(1_000);
        }
        console.log(
          `      words in ${Math.round(words)} ms, photos in ${Math.round(performance.now() - from)} ms, ${lost} answers lost of ${asked}`,
        );
      } finally {
        clearInterval(go);
      }
      const have = await onServer(staff, who.farm);
      must(lost > 3, `only ${lost} answers were lost`);
      for (const [what, ids, map] of [
        ["entry", made.entries, have.entries],
        ["photo", made.photos, have.photos],
      ]) {
        const missing = ids.filter((id) => !map.has(id));
        const twice = ids.filter((id) => map.get(id) > 1);
        must(
          missing.length === 0 && twice.length === 0,
          `${what}: ${missing.length} missing, ${twice.length} twice`,
        );
      }
      await page.goto(`${house.base}/today/sent`);
      await unlock(page);
      await page.locator("#sent-media ~ ul li").first().waitFor();
      must((await page.getByText("needs you").count()) === 0, "something was refused");
      await shot(page, "backlog-sent");
      await context.close();
    },
  );
}
