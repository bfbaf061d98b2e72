// Runs the browser tests: `npm run e2e`. TENDFOLD_BIN is the built program
// (without it only the gallery is tried), CHROMIUM the browser.
import { execFileSync } from "node:child_process";
import { gallery } from "./gallery.e2e.mjs";
import { close, finish, skip, startServer } from "./harness.mjs";
import { shell } from "./shell.e2e.mjs";

const binary = process.env.TENDFOLD_BIN;
const args = (process.env.TENDFOLD_ARGS ?? "demo --addr 127.0.0.1:0").split(" ");

let code = 1;
try {
  execFileSync("npx", ["vite", "build", "--config", "e2e/gallery/vite.config.ts", "--logLevel", "warn"], {
    cwd: new URL("..", import.meta.url),
    stdio: "inherit",
  });
  await gallery();
  if (binary) {
    const server = await startServer(binary, args);
    await shell(server.base);
    await server.stop();
  } else {
    skip("the app in the browser", "TENDFOLD_BIN does not name the built program");
  }
  code = finish();
} catch (error) {
  console.error(error);
} finally {
  await close();
}
process.exit(code);
