// Runs the browser tests: `npm run e2e`, or only some: `npm run e2e manager
// farm`. TENDFOLD_BIN is the built program (without it only the gallery is
// tried), CHROMIUM the browser.
import { execFileSync } from "node:child_process";
import { desk } from "./desk.e2e.mjs";
import { farm } from "./farm.e2e.mjs";
import { firstRun } from "./first-run.e2e.mjs";
import { gallery } from "./gallery.e2e.mjs";
import { close, finish, skip, startServer } from "./harness.mjs";
import { manager } from "./manager.e2e.mjs";
import { media } from "./media.e2e.mjs";
import { office } from "./office.e2e.mjs";
import { phone } from "./phone.e2e.mjs";
import { openHouse } from "./seed/house.mjs";
import { shell } from "./shell.e2e.mjs";

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

const parts = {
  shell: inDemo(shell),
  "first-run": () => firstRun(binary),
  office: inHouse(office),
  manager: inHouse(manager),
  farm: inHouse(farm),
  desk: () => desk(binary),
  phone: inHouse(phone),
  media: inHouse(media),
};

const asked = process.argv.slice(2);
const wanted = (name) => asked.length === 0 || asked.includes(name);

let code = 1;
try {
  if (wanted("gallery")) {
    execFileSync("npx", ["vite", "build", "--config", "e2e/gallery/vite.config.ts", "--logLevel", "warn"], {
      cwd: new URL("..", import.meta.url),
      stdio: "inherit",
    });
    await gallery();
  }
  for (const [name, part] of Object.entries(parts).filter(([name]) => wanted(name))) {
    const from = performance.now();
    if (binary) await part();
    else skip(name, "TENDFOLD_BIN does not name the built program");
    console.log(`      ${name}: ${Math.round((performance.now() - from) / 1000)} s`);
  }
  code = finish();
} catch (error) {
  console.error(error);
} finally {
  await close();
}
process.exit(code);
