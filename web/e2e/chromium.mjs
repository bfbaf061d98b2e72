// How the browser is started: alone, quiet, and without a call home.
import { chromium } from "playwright-core";

/** The flags that keep Chromium from reaching for the network and let it run as root in a container. */
export const flags = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  // A microphone that hums, and nobody who has to allow it.
  "--use-fake-ui-for-media-stream",
  "--use-fake-device-for-media-stream",
];

/** launch starts the browser that CHROMIUM names, headless. */
export function launch() {
  return chromium.launch({ executablePath: process.env.CHROMIUM || "/usr/bin/chromium", args: flags });
}
