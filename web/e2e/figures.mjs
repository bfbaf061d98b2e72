// Measures what the phone costs, in Chromium: time until somebody can type on
// slow lines and slow phones, the start without a network, and bytes. It prints
// figures and judges nothing: a busy machine is not a failure.
// TENDFOLD_BIN=bin/tendfold CHROMIUM=chromium node web/e2e/figures.mjs
import { aDaysBytes } from "./backlog.e2e.mjs";
import { front } from "./front.mjs";
import { close, enrolPhone, open, startServer } from "./harness.mjs";
import { broughtAhead } from "./learn.e2e.mjs";
import { asStaff, cached, caretaker, enrolled } from "./phone.e2e.mjs";
import { openHouse } from "./seed/house.mjs";

const screen = { viewport: { width: 360, height: 640 } };
const lines = [
  { name: "400 kbit/s, 400 ms, CPU/4", kbit: 400, latency: 400, cpu: 4, most: 3 },
  { name: "80 kbit/s, 650 ms, CPU/10", kbit: 80, latency: 650, cpu: 10, most: 6 },
];
const rounds = 3;

const print = (name, figure, bound) => console.log(`${name.padEnd(62)} ${figure.padStart(12)}   ${bound}`);
const seconds = (ms) => `${(ms / 1000).toFixed(2)} s`;
const median = (all) => [...all].sort((a, b) => a - b)[Math.floor(all.length / 2)];

/** slow makes a page's line and processor as slow as asked. */
async function slow(page, { kbit, latency, cpu }) {
  const session = await page.context().newCDPSession(page);
  const bytes = (kbit * 1000) / 8;
  await session.send("Network.enable");
  await session.send("Network.emulateNetworkConditions", {
    offline: false,
    latency,
    downloadThroughput: bytes,
    uploadThroughput: bytes,
  });
  await session.send("Emulation.setCPUThrottlingRate", { rate: cpu });
}

/** typable is how long it takes until a letter that is typed stands in the first field, in ms. */
async function typable(page, address) {
  const from = performance.now();
  await page.goto(address, { waitUntil: "commit" });
  const field = page.locator("form input").first();
  await field.waitFor();
  await field.pressSequentially("a");
  while ((await field.inputValue()) === "") await page.waitForTimeout(10);
  return performance.now() - from;
}

// In the demo: a house of the tests has no firm yet, and would ask for one first.
async function firstLoad(base) {
  for (const line of lines) {
    const took = [];
    for (let n = 0; n < rounds; n++) {
      const { page, context } = await open("phone", screen);
      await slow(page, line);
      took.push(await typable(page, `${base}/`));
      await context.close();
    }
    print(`typing possible, nothing kept yet, ${line.name}`, seconds(median(took)), `at most ${line.most} s`);
  }
}

async function repeatStart(house, who) {
  const { page, context } = await enrolled(house, who);
  await cached(page);
  await context.setOffline(true);
  for (const cpu of [1, 4]) {
    const session = await context.newCDPSession(page);
    await session.send("Emulation.setCPUThrottlingRate", { rate: cpu });
    const took = [];
    for (let n = 0; n < rounds; n++) took.push(await typable(page, `${house.base}/today`));
    print(
      `start without a network until the PIN can be typed, CPU/${cpu}`,
      seconds(median(took)),
      cpu === 1 ? "at most 1 s" : "",
    );
  }
  await context.close();
}

/** offlineBytes counts what goes over the line until a phone has all it needs without one, headers included. */
async function offlineBytes(house, who) {
  const door = await front(house.base);
  const { page, context } = await open("phone", screen);
  await enrolPhone(page, door.base, await who.secret());
  await page.locator(".phone-age").waitFor();
  await cached(page);
  await broughtAhead(page);
  await page.waitForLoadState("networkidle");
  const down = (some) => some.reduce((sum, one) => sum + one.down, 0);
  const drawings = door.log.filter((r) => /\/drawings/.test(r.path));
  const voices = door.log.filter((r) => /\/voices\//.test(r.path));
  const rest = door.log.filter((r) => !drawings.includes(r) && !voices.includes(r));
  const app = rest.filter((r) => !r.path.startsWith("/api/"));
  const kB = (bytes) => `${(bytes / 1000).toFixed(1)} kB`;
  print("all for a phone without a network, drawings and voices apart", kB(down(rest)), "at most 120 kB");
  print("  of which the app, both languages", kB(down(app)), "");
  for (const { path, down: size } of rest.filter((r) => r.path.startsWith("/api/") && r.down > 2_000))
    print(`  ${path}`, kB(size), "");
  print("with the drawings of its enterprise", kB(down(rest) + down(drawings)), "at most 400 kB");
  await context.close();
  door.close();
}

async function sync(house, who) {
  const { up, down, all } = await aDaysBytes(house, who);
  print("a day's sync: 15 entries, receipts, the fresh day; up", `${up} B`, "at most 4 kB");
  print("a day's sync; down", `${down} B`, "at most 4 kB");
  print("  with signing in by the phone's key; up / down", `${all.up}/${all.down} B`, "");
}

const binary = process.env.TENDFOLD_BIN ?? "bin/tendfold";
const demo = await startServer(binary, ["demo", "--addr", "127.0.0.1:0"]);
const house = await openHouse(binary);
try {
  await firstLoad(demo.base);
  await demo.stop();
  const staff = await asStaff(house, "manager");
  await repeatStart(house, await caretaker(staff, "Hillside"));
  await offlineBytes(house, await caretaker(staff, "Lower Ridge"));
  await sync(house, await caretaker(staff, "Sandpit Corner"));
} finally {
  await house.close();
  await close();
}
