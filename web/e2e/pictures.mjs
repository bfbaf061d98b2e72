// Makes the pictures that README.md shows, from the demo: by hand, after a
// build, `TENDFOLD_BIN=bin/tendfold CHROMIUM=chromium node web/e2e/pictures.mjs`.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { close, enrolPhone, language, must, open, signIn, startServer } from "./harness.mjs";
import { paletted } from "./png.mjs";

const folder = join(import.meta.dirname, "..", "..", "docs", "pictures");
const most = 200_000; // bytes of a picture

const desk = { viewport: { width: 1280, height: 800 } };
const phone = { viewport: { width: 360, height: 740 } };

/** staffOf reads from what the demo prints who may sign in as a role. */
function staffOf(printed, role) {
  const line = printed.split("\n").find((l) => l.startsWith(role));
  const login = /\S+@\S+/.exec(line)?.[0] ?? "";
  return { login, password: line.slice(line.indexOf(login) + login.length).trim() };
}

/** signIns waits until the demo has printed its last sign-in. */
async function signIns(server) {
  while (!/^owner .*#\S+\n/m.test(server.output())) await new Promise((again) => setTimeout(again, 50));
  return server.output();
}

async function picture(page, name) {
  await language(page, "English");
  await page.waitForLoadState("networkidle", { timeout: 3_000 }).catch(() => undefined); // the desk keeps a stream open
  await page.evaluate(() => document.activeElement?.blur());
  const path = join(folder, `${name}.png`);
  const picture = paletted(...(await pixelsOf(page, await page.screenshot())));
  must(picture.length < most, `${name}.png has ${picture.length} bytes`);
  writeFileSync(path, picture);
  console.log(`${name}.png ${picture.length} bytes`);
}

/** pixelsOf decodes a screenshot by the browser that made it. */
async function pixelsOf(page, png) {
  const { width, height, data } = await page.evaluate(async (base64) => {
    const image = new Image();
    image.src = `data:image/png;base64,${base64}`;
    await image.decode();
    const { width, height } = image;
    const pen = Object.assign(document.createElement("canvas"), { width, height }).getContext("2d");
    pen.drawImage(image, 0, 0);
    const { data } = pen.getImageData(0, 0, width, height);
    const text = Array.from(data, (byte) => String.fromCharCode(byte)).join("");
    return { width, height, data: btoa(text) };
  }, png.toString("base64"));
  return [Buffer.from(data, "base64"), width, height];
}

async function manager(base, printed) {
  const { page } = await open("desk", desk);
  await signIn(page, base, staffOf(printed, "manager"));
  await page.locator(".need").first().waitFor();
  await picture(page, "manager");
}

async function advisor(base, printed) {
  const { page } = await open("desk", desk);
  await signIn(page, base, staffOf(printed, "advisor"));
  await page.locator(".held, .empty").first().waitFor();
  await page.keyboard.press("3");
  await page.locator("a.row").first().click();
  await page.locator(".pane-head h2").waitFor();
  await picture(page, "desk");
}

async function caretaker(base, printed) {
  const { page } = await open("phone", phone);
  const secret = /caretaker .*#(\S+)/.exec(printed)?.[1] ?? "";
  await enrolPhone(page, base, secret);
  await page.waitForURL("**/today");
  await page.locator("main h1").waitFor();
  await picture(page, "phone");
}

const server = await startServer(process.env.TENDFOLD_BIN ?? "bin/tendfold", [
  "demo",
  "--addr",
  "127.0.0.1:0",
]);
try {
  mkdirSync(folder, { recursive: true });
  const printed = await signIns(server);
  for (const make of [manager, advisor, caretaker]) await make(server.base, printed);
} finally {
  await close();
}
