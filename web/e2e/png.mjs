// Packs a picture of a screen into a PNG of at most 256 colours, a quarter of
// what the browser writes.
import { crc32, deflateSync } from "node:zlib";

/** paletted is the PNG of pixels (red, green, blue, alpha by turns); shades that the eye cannot tell apart become one. */
export function paletted(pixels, width, height) {
  const palette = paletteOf(pixels);
  const nearest = new Map();
  const rows = Buffer.alloc(height * (width + 1)); // each row begins with the byte of its filter: none
  for (let i = 0; i < width * height; i++) {
    const shade = shadeAt(pixels, 4 * i);
    if (!nearest.has(shade)) nearest.set(shade, nearestIn(palette, shade));
    rows[i + Math.floor(i / width) + 1] = nearest.get(shade);
  }
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 3, 0, 0, 0], 8); // 8 bits a pixel, from a palette
  return Buffer.concat([
    Buffer.from("\x89PNG\r\n\x1a\n", "latin1"),
    chunk("IHDR", head),
    chunk("PLTE", Buffer.from(palette.flatMap(channels))),
    chunk("IDAT", deflateSync(rows, { level: 9 })),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

const shadeAt = (pixels, at) => (pixels[at] << 16) | (pixels[at + 1] << 8) | pixels[at + 2];
const channels = (shade) => [shade >> 16, (shade >> 8) & 255, shade & 255];

// The shades that cover most, no two of them within a step of each other.
function paletteOf(pixels) {
  const counts = new Map();
  for (let at = 0; at < pixels.length; at += 4) {
    const shade = shadeAt(pixels, at);
    counts.set(shade, (counts.get(shade) ?? 0) + 1);
  }
  const steps = new Map();
  for (const [shade] of [...counts].sort((a, b) => b[1] - a[1])) {
    const step = channels(shade)
      .map((c) => c >> 3)
      .join();
    if (!steps.has(step)) steps.set(step, shade);
  }
  return [...steps.values()].slice(0, 256);
}

function nearestIn(palette, shade) {
  const to = channels(shade);
  const far = (other) => channels(other).reduce((sum, c, i) => sum + (c - to[i]) ** 2, 0);
  return palette.reduce((best, other, i) => (far(other) < far(palette[best]) ? i : best), 0);
}

function chunk(name, data) {
  const body = Buffer.concat([Buffer.from(name, "latin1"), data]);
  const framed = Buffer.alloc(body.length + 8);
  framed.writeUInt32BE(data.length, 0);
  body.copy(framed, 4);
  framed.writeUInt32BE(crc32(body), body.length + 4);
  return framed;
}
