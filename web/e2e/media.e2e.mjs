// Photos and voice notes, from a caretaker's hand without a network to the
// advisor's farm page.
import { readFileSync } from "node:fs";
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
  tap,
  unlock,
} from "./phone.e2e.mjs";
import { enter, leaveAll } from "./session.mjs";

// Made by hand after Exif 2.32; the server's own tests use the same file.
const located = readFileSync(new URL("../../server/media/testdata/located.jpg", import.meta.url));

/** camera is a photo as a cheap camera makes it: large, busy, and it knows its place. */
async function camera(page) {
  const plain = await page.evaluate(async () => {
    const canvas = Object.assign(document.createElement("canvas"), { width: 3000, height: 2000 });
    const pen = canvas.getContext("2d");
    for (let i = 0; i < 4000; i++) {
      pen.fillStyle = `hsl(${(i * 47) % 360} 60% ${30 + (i % 40)}%)`;
      pen.fillRect((i * 379) % 3000, (i * 211) % 2000, 20 + (i % 90), 20 + (i % 70));
    }
    const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.95));
    return [...new Uint8Array(await blob.arrayBuffer())];
  });
  const exif = located.subarray(2, 4 + located.readUInt16BE(4));
  return Buffer.concat([Buffer.from(plain.slice(0, 2)), exif, Buffer.from(plain.slice(2))]);
}

const photoFile = async (page) => ({ name: "IMG.jpg", mimeType: "image/jpeg", buffer: await camera(page) });

/** toItem opens the list of readiness and one of its items. */
async function toItem(page, house, item) {
  await page.goto(`${house.base}/today`);
  await unlock(page);
  await page.locator(".phone-age").waitFor();
  await page.locator("main a[href^='/today/list/']", { hasText: /Readiness|Préparation/ }).click();
  await page.locator(`main a[href$='/${item}']`).click();
}

/** known waits until so many photos and voice notes of a farm are kept. */
async function known(staff, farm, kind, n) {
  const until = Date.now() + 60_000;
  for (;;) {
    const entries = await arrived(staff, farm, kind, 1);
    const media = entries.flatMap((e) => e.media ?? []).filter((m) => m.state === "kept");
    if (media.length >= n || Date.now() > until) return media;
  }
}

export async function media(house) {
  const staff = await asStaff(house, "manager");
  await photoOffline(house, staff, await caretaker(staff, "Lower Ridge"));
  await wifiOnly(house, staff, await caretaker(staff, "Kilomètre Huit"));
  await noCamera(house, await caretaker(staff, "Behind the Mill"));
  await spoken(house, staff, await caretaker(staff, "Market Pond"));
  await leaveAll();
}

async function photoOffline(house, staff, who) {
  await check("media: a photo taken without a network arrives once, though answers are lost", async () => {
    const { page, context, troubles } = await enrolled(house, who);
    await cached(page);
    await context.setOffline(true);
    await toItem(page, house, "soil-moist");
    await page.locator(".attach").waitFor();
    await axe(page, "item with a camera");
    must((await small(page)).length === 0, `too small: ${(await small(page)).join("; ")}`);
    const file = await photoFile(page);
    await page.locator(".attach input[type=file]").setInputFiles(file);
    await page.locator(".attach-taken img").waitFor();
    await page.getByText("Over which network may they go?").waitFor();
    await axe(page, "item with a photo");
    must((await small(page)).length === 0, `too small: ${(await small(page)).join("; ")}`);
    must((await sideways(page)) <= 0, "the photo makes the page scroll sideways");
    await shot(page, "media-item-photo", { fullPage: true });
    await page.getByLabel("Any network").check();

    // The battery falls out before the answer; the photo is there again.
    await toItem(page, house, "soil-moist");
    await page.locator(".attach-taken img").waitFor();
    await tap(page, "Yes");
    await sent(page, "1 entry kept on this phone, not sent yet");

    const lost = { parts: 0, finish: 0 };
    const went = [];
    await page.route("**/api/media/**", async (route) => {
      const answer = await route.fetch();
      const part = route.request().url().includes("/parts");
      if (part) went.push(route.request().postDataBuffer().length);
      const name = part ? "parts" : "finish";
      if (lost[name]++ < 1) await route.abort();
      else await route.fulfill({ response: answer });
    });
    await context.setOffline(false);
    await sent(page);
    await page.goto(`${house.base}/today/sent`);
    await unlock(page);
    await page.getByRole("heading", { name: "Photos and voice notes" }).waitFor();
    const [photo] = await known(staff, who.farm, "item", 1);
    const entries = await arrived(staff, who.farm, "item", 1);
    must(
      entries.length === 1 && entries[0].media?.length === 1,
      `${JSON.stringify(entries)} ${await page.locator("main").textContent()}`,
    );
    must(photo.width >= 800 && photo.width <= 1280, JSON.stringify(photo));
    must(!photo.taken, "nobody agreed to say where");
    const bytes = went.reduce((sum, n) => sum + n, 0);
    console.log(
      `      a camera's photo of ${file.buffer.length} bytes went as ${bytes} in ${went.length} pieces`,
    );
    must(bytes <= 150_000, `${bytes} bytes went`);
    must(
      went.every((n) => n <= 32_768),
      "a piece is too large",
    );
    await page.getByText(/Used this month: 0[.,]\d MB/).waitFor();
    await page.locator("#sent-media ~ ul .entry-state", { hasText: "sent" }).waitFor();
    await axe(page, "what was sent");
    must((await small(page)).length === 0, `too small: ${(await small(page)).join("; ")}`);
    await shot(page, "media-sent", { fullPage: true });
    const real = troubles.filter(
      (t) => !/status of 401|ERR_FAILED|ERR_INTERNET_DISCONNECTED|status of 409/.test(t),
    );
    must(real.length === 0, real.join("\n"));
    await context.close();
  });
  await check("media: the advisor sees the photo on the farm page, and opens it by keyboard", async () => {
    const { page } = await enter(house, "advisor");
    await page.goto(`${house.base}/farms/${who.farm.id}`);
    const small = page.locator("#timeline .media-open img");
    await small.waitFor();
    must(
      await small.evaluate((img) => img.complete && img.naturalWidth === 240),
      "the thumbnail is not drawn",
    );
    await axe(page, "farm page with a photo");
    await page.locator("#timeline .media-open").focus();
    await page.keyboard.press("Enter");
    const whole = page.locator("dialog[open] .media-whole");
    await whole.waitFor();
    await page.waitForFunction(() => document.querySelector(".media-whole")?.naturalWidth >= 800);
    await axe(page, "a photo, opened");
    await shot(page, "media-farm-photo");
    await page.keyboard.press("Escape");
    await page.waitForFunction(() => document.activeElement?.classList.contains("media-open"));
  });
}

async function wifiOnly(house, staff, who) {
  await check(
    "media: “Wi-Fi only” holds a photo back until there is Wi-Fi; its place goes only if agreed",
    async () => {
      const { page, context } = await enrolled(house, who);
      await toItem(page, house, "soil-moist");
      await page.locator(".attach input[type=file]").setInputFiles(await photoFile(page));
      await page.getByLabel("Wi-Fi seulement").check();
      await page.locator(".attach-place input").check();
      await axe(page, "item with a photo that knows its place");
      await shot(page, "media-item-place", { fullPage: true });
      let asked = 0;
      page.on("request", (request) => request.url().includes("/api/media") && asked++);
      // "All is sent" stands there before the tap too: it is this entry that must have gone.
      const gone = page.waitForResponse((answer) => answer.url().endsWith("/api/sync") && answer.ok());
      await tap(page, "Oui");
      await gone;
      await sent(page, "Tout est envoyé");
      await page.goto(`${house.base}/today/sent`);
      await unlock(page);
      await page.getByText("Elles attendent le Wi-Fi.").waitFor();
      await shot(page, "media-held", { fullPage: true });
      const entries = await arrived(staff, who.farm, "item", 1);
      must(asked === 0 && !entries[0].media && entries[0].data.media.length === 1, "nothing may have gone");
      await tap(page, "Je suis en Wi-Fi : envoyer");
      const [photo] = await known(staff, who.farm, "item", 1);
      must(
        Math.abs(photo.taken.lat - 4.153429) < 1e-6 && Math.abs(photo.taken.lng - 9.242558) < 1e-6,
        JSON.stringify(photo),
      );
      await context.close();
    },
  );
}

async function noCamera(house, who) {
  await check("media: a phone without a camera gives its word instead", async () => {
    const { page, context } = await enrolled(house, who, { viewport: { width: 320, height: 640 } });
    await toItem(page, house, "plants-rooted");
    await tap(page, "My camera does not work");
    await page.getByText("I looked myself").waitFor();
    must((await page.locator(".attach input[type=file]").count()) === 0, "no camera is asked for");
    must((await sideways(page)) <= 0, "it scrolls sideways");
    await axe(page, "item without a camera");
    await shot(page, "media-no-camera");
    await tap(page, "Yes");
    await context.close();
  });
}

async function spoken(house, staff, who) {
  await check("media: a report may be spoken; the advisor hears it on its ticket", async () => {
    const { page, context } = await enrolled(house, who);
    await page.goto(`${house.base}/today/trouble/words`);
    await unlock(page);
    const record = page.getByRole("button", { name: /Speak instead of writing/ });
    await record.click();
    await page.getByRole("button", { name: /Stop \(5[0-8] seconds left\)/ }).click();
    await page.locator(".attach audio").waitFor();
    await axe(page, "a report with a voice note");
    must((await small(page)).length === 0, `too small: ${(await small(page)).join("; ")}`);
    await shot(page, "media-spoken", { fullPage: true });
    await tap(page, "Remove the voice note");
    await record.click();
    await page.getByRole("button", { name: /Stop \(5[0-8] seconds left\)/ }).click();
    await page.locator(".attach audio").waitFor();
    await page.getByLabel("Any network").check();
    await tap(page, "Keep");
    await page.waitForURL("**/today/reports");
    await sent(page);
    const notes = await known(staff, who.farm, "trouble", 1);
    must(notes.length === 1 && notes[0].type === "audio/webm", JSON.stringify(notes));
    const { items } = await staff.get(`/api/tickets?farm=${who.farm.id}&origin=caretaker`);
    const desk = await enter(house, "advisor");
    await desk.page.goto(`${house.base}/desk?ticket=${items[0].id}`);
    const player = desk.page.locator(".evidence audio");
    await player.waitFor();
    await desk.page.waitForFunction(() => document.querySelector(".evidence audio")?.readyState >= 1);
    await axe(desk.page, "a ticket with a voice note");
    await shot(desk.page, "media-ticket-voice");
    await context.close();
  });
}
