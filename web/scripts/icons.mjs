// Draws the icon's bitmaps from public/icon.svg with the Chromium that the
// browser tests use. Run by hand when the drawing changes; the output is
// committed.
import { readFileSync, writeFileSync } from "node:fs";
import { launch } from "../e2e/chromium.mjs";

const svg = readFileSync("public/icon.svg", "utf8");
// A maskable icon may lose a fifth at every edge, so it is drawn smaller, and without the round corners.
const maskable = svg
  .replace('rx="10"', "")
  .replace(/(<rect[^>]*>)/, '$1<g transform="translate(9.6 9.6) scale(0.7)">')
  .replace("</svg>", "</g></svg>");

const browser = await launch();
try {
  for (const [name, drawing, size] of [
    ["icon-192", svg, 192],
    ["icon-512", svg, 512],
    ["icon-maskable-512", maskable, 512],
  ]) {
    const page = await browser.newPage({ viewport: { width: size, height: size } });
    await page.setContent(
      `<body style="margin:0">${drawing.replace("<svg", '<svg style="display:block;width:100vw"')}`,
    );
    writeFileSync(`public/${name}.png`, await page.screenshot({ omitBackground: true }));
    await page.close();
  }
} finally {
  await browser.close();
}
