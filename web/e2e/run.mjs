// Runs the browser tests: `npm run e2e`, or only some: `npm run e2e manager
// farm`. TENDFOLD_BIN is the built program (without it only the gallery is
// tried), CHROMIUM the browser.
import { execFileSync, spawn } from "node:child_process";
import { ahead } from "./ahead.e2e.mjs";
import { backlog } from "./backlog.e2e.mjs";
import { badDay } from "./bad-day.e2e.mjs";
import { day } from "./day.e2e.mjs";
import { desk } from "./desk.e2e.mjs";
import { farm } from "./farm.e2e.mjs";
import { film } from "./film.e2e.mjs";
import { firstRun } from "./first-run.e2e.mjs";
import { gallery } from "./gallery.e2e.mjs";
import { close, finish, skip, startServer } from "./harness.mjs";
import { learn } from "./learn.e2e.mjs";
import { lock } from "./lock.e2e.mjs";
import { manager } from "./manager.e2e.mjs";
import { media } from "./media.e2e.mjs";
import { office } from "./office.e2e.mjs";
import { paper } from "./paper.e2e.mjs";
import { phone } from "./phone.e2e.mjs";
import { rest } from "./rest.e2e.mjs";
import { openHouse } from "./seed/house.mjs";
import { shell } from "./shell.e2e.mjs";
import { triage } from "./triage.e2e.mjs";
import { unlikely } from "./unlikely.e2e.mjs";

const binary = process.env.TENDFOLD_BIN;

/** inHouse gives a part of the tests a house of its own, so that no part sees what another did. */
const inHouse = (part) => async () => {
  const house = await openHouse(binary);
  await part(house);
  await house.close();
};

const inDemo = (part) => async () => {
  const server = await startServer(binary, ["demo", "--addr", "127.0.0.1:0"]);
  await part(server.base);
  await server.stop();
};

// The longest first, so that no lane waits for one at the end.
const parts = {
  desk: () => desk(binary),
  triage: () => triage(binary),
  phone: inHouse(phone),
  "bad-day-en": inHouse(badDay("en")),
  "bad-day-fr": inHouse(badDay("fr")),
  backlog: inHouse(backlog),
  day: inHouse(day),
  learn: inHouse(learn),
  lock: inHouse(lock),
  farm: inHouse(farm),
  manager: inHouse(manager),
  media: inHouse(media),
  ahead: inHouse(ahead),
  paper: inHouse(paper),
  film: inHouse(film),
  office: inHouse(office),
  unlikely: inHouse(unlikely),
  rest: () => rest(binary),
  shell: inDemo(shell),
  "first-run": () => firstRun(binary),
};

/** tryPart tries one part in this process, and answers its exit code. */
async function tryPart(name) {
  const from = performance.now();
  try {
    if (name === "gallery") await buildGallery().then(gallery);
    else if (binary) await parts[name]();
    else skip(name, "TENDFOLD_BIN does not name the built program");
    console.log(`      ${name}: ${Math.round((performance.now() - from) / 1000)} s`);
    return finish();
  } catch (error) {
    console.error(error);
    return 1;
  } finally {
    await close();
  }
}

async function buildGallery() {
  execFileSync("npx", ["vite", "build", "--config", "e2e/gallery/vite.config.ts", "--logLevel", "warn"], {
    cwd: new URL("..", import.meta.url),
    stdio: "inherit",
  });
}

/**
 * inOwnProcess tries one part in a process with a browser and servers of its
 * own. Browsers wait more than they work, so two parts go side by side; in one
 * browser they would close each other's pages.
 */
function inOwnProcess(name) {
  return new Promise((done) => {
    const child = spawn(process.execPath, [import.meta.filename, name], {
      stdio: ["ignore", "pipe", "pipe"],
    });
    let told = "";
    child.stdout.on("data", (piece) => {
      told += piece;
    });
    child.stderr.on("data", (piece) => {
      told += piece;
    });
    child.on("exit", (code) => {
      console.log(`== ${name}\n${told.trimEnd()}`);
      done(code === 0);
    });
  });
}

const sideBySide = Number(process.env.E2E_LANES ?? 2);

/**
 * tryAll tries parts, a few at a time and the first ones first; false when one
 * failed. What fails beside another part is tried once more by itself, for two
 * browsers and a server on two cores can starve a page; what passes only then
 * is named, to be looked at.
 */
async function tryAll(names) {
  const waiting = [...names];
  const beside = [];
  const lane = async () => {
    for (let name = waiting.shift(); name; name = waiting.shift()) {
      if (!(await inOwnProcess(name))) beside.push(name);
    }
  };
  await Promise.all(Array.from({ length: sideBySide }, lane));
  const failed = [];
  for (const name of beside) if (!(await inOwnProcess(name))) failed.push(name);
  const alone = beside.filter((name) => !failed.includes(name));
  if (alone.length > 0) console.log(`PASSED ONLY BY THEMSELVES: ${alone.join(", ")}`);
  console.log(
    failed.length === 0 ? `all ${names.length} parts passed` : `FAILED parts: ${failed.join(", ")}`,
  );
  return failed.length === 0;
}

const known = [...Object.keys(parts), "gallery"];
const asked = process.argv.slice(2);
for (const name of asked.filter((name) => !known.includes(name))) {
  console.error(`There is no part called ${name}. There are: ${known.join(", ")}`);
  process.exit(2);
}
process.exit(
  asked.length === 1 ? await tryPart(asked[0]) : (await tryAll(asked.length > 0 ? asked : known)) ? 0 : 1,
);
