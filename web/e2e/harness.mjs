// The browser tests' own small runner: checks with a name, a count at the
// end, screenshots in e2e/shots, and servers that never outlive the run.
import { spawn } from "node:child_process";
import { mkdirSync, readFileSync } from "node:fs";
import { createServer } from "node:http";
import { createRequire } from "node:module";
import { extname, join, resolve } from "node:path";
import { launch } from "./chromium.mjs";

const here = import.meta.dirname;
const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** The two screens that everything is tried on. */
export const sizes = { desk: { width: 1366, height: 768 }, phone: { width: 360, height: 740 } };

const count = { passed: 0, failed: 0, skipped: 0 };

/** check runs one named check; what it throws is a failure, and the run goes on. */
export async function check(name, run) {
  try {
    await run();
    count.passed++;
    console.log(`ok    ${name}`);
  } catch (error) {
    count.failed++;
    console.log(`FAIL  ${name}\n      ${String(error?.stack ?? error).replaceAll("\n", "\n      ")}`);
  }
}

/** skip says what is not tried and why. */
export function skip(name, why) {
  count.skipped++;
  console.log(`skip  ${name}: ${why}`);
}

/** finish prints the closing line and answers the exit code; under CI a skipped check is a failed one. */
export function finish() {
  console.log(`${count.passed} passed, ${count.failed} failed, ${count.skipped} skipped`);
  return count.failed > 0 || (process.env.CI && count.skipped > 0) ? 1 : 0;
}

/** must throws when a thing is not so. */
export function must(so, message) {
  if (!so) throw new Error(message);
}

let browser;

/** open gives a fresh page of a size, in a context of its own (no cookies, no storage of others). */
export async function open(size = "desk", options = {}) {
  browser ??= await launch();
  const context = await browser.newContext({
    viewport: sizes[size],
    bypassCSP: true, // axe is put in as an inline script
    hasTouch: size === "phone",
    locale: "en-GB",
    ...options,
  });
  const page = await context.newPage();
  page.setDefaultTimeout(30_000); // a busy machine is not a failure
  const troubles = [];
  page.on("pageerror", (error) => troubles.push(String(error)));
  page.on("console", (line) => line.type() === "error" && troubles.push(line.text()));
  return { page, context, troubles };
}

/** axe holds the page against WCAG 2.2 AA and axe's best practice, colours included. */
export async function axe(page, name) {
  await page.evaluate(axeSource);
  const found = await page.evaluate(() =>
    window.axe.run(document, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    }),
  );
  const told = found.violations.map(
    (v) => `${v.id}: ${v.nodes.map((n) => `${n.target} ${n.failureSummary}`).join(" | ")}`,
  );
  must(told.length === 0, `axe on ${name}: ${told.join("\n")}`);
}

/** shot keeps a screenshot for a person to look at. */
export async function shot(page, name, options = {}) {
  mkdirSync(join(here, "shots"), { recursive: true });
  await page.screenshot({ path: join(here, "shots", `${name}.png`), ...options });
}

/** language switches the page by its own switch in the menu. */
export async function language(page, name) {
  const menu = page.locator("details.menu");
  if (!(await menu.evaluate((d) => d.open))) await menu.locator("summary").click();
  await menu.getByRole("button", { name }).click();
  await menu.locator("summary").click();
}

/** signIn goes in by a password, as staff do. */
export async function signIn(page, base, { login, password }) {
  await page.goto(`${base}/signin`);
  const fields = page.locator("form input");
  await fields.nth(0).fill(login);
  await fields.nth(1).fill(password);
  await page.locator("form button[type=submit]").click();
  await page.waitForURL((url) => url.pathname !== "/signin");
}

/** enrolPhone spends a link on this page's phone and chooses a PIN. */
export async function enrolPhone(page, base, secret, pin = "246810") {
  await page.goto(`${base}/enrol#${secret}`);
  await page.locator("form input").last().fill(pin);
  await page.locator("form button[type=submit]").click();
  await page.waitForURL((url) => url.pathname !== "/enrol");
}

const types = { ".html": "text/html", ".js": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml" };

/** serveFolder serves built files on a free port; close it when done. */
export async function serveFolder(folder) {
  const root = resolve(here, folder);
  const server = createServer((request, answer) => {
    const path = new URL(request.url, "http://x").pathname;
    const file = join(root, path === "/" ? "index.html" : path);
    try {
      must(file.startsWith(root), "outside the folder");
      const body = readFileSync(file);
      answer.writeHead(200, { "Content-Type": types[extname(file)] ?? "application/octet-stream" }).end(body);
    } catch {
      answer.writeHead(404).end();
    }
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  return { base: `http://127.0.0.1:${server.address().port}`, close: () => server.close() };
}

const children = new Set();

/** startServer runs the built program and waits until it says where it is. What it printed is in `output()`. */
export async function startServer(binary, args, env = {}) {
  const child = spawn(binary, args, { env: { ...process.env, ...env }, stdio: ["ignore", "pipe", "pipe"] });
  children.add(child);
  let text = "";
  const base = await new Promise((done, fail) => {
    const timer = setTimeout(() => fail(new Error(`${binary} did not start in 60 s:\n${text}`)), 60_000);
    const hear = (piece) => {
      text += piece;
      const found = /https?:\/\/127\.0\.0\.1:\d+/.exec(text);
      if (!found) return;
      clearTimeout(timer);
      done(found[0]);
    };
    child.stdout.on("data", hear);
    child.stderr.on("data", hear);
    child.on("exit", (code) => fail(new Error(`${binary} ended with ${code}:\n${text}`)));
  });
  return { base, output: () => text, stop: () => stop(child) };
}

async function stop(child) {
  if (child.exitCode === null) {
    const ended = new Promise((done) => child.once("exit", done));
    child.kill("SIGTERM");
    const timer = setTimeout(() => child.kill("SIGKILL"), 10_000);
    await ended;
    clearTimeout(timer);
  }
  children.delete(child);
}

/** close ends the browser and every server that is still up. */
export async function close() {
  await browser?.close();
  await Promise.all([...children].map(stop));
}
