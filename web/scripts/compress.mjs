// Puts a .br beside every built file that grows smaller by it, so that the
// server packs nothing while people wait.
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { brotliCompressSync, constants } from "node:zlib";

const folder = process.argv[2] ?? "dist";
const params = { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_LGWIN]: 22 };

let count = 0;
for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
  if (!entry.isFile() || /\.(br|gitkeep)$/.test(entry.name)) continue;
  const path = join(entry.parentPath, entry.name);
  const plain = readFileSync(path);
  const packed = brotliCompressSync(plain, { params });
  if (packed.length >= plain.length) continue;
  writeFileSync(`${path}.br`, packed);
  count++;
}
console.log(`packed ${count} files in ${folder}`);
