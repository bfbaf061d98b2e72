// Holds the first load to its byte budget: what a caretaker's phone fetches
// before the first screen works, brotli, in bytes. Each language and the way
// in count too, for a fresh phone comes through them.
import { existsSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";

const folder = process.argv[2] ?? "dist";
const firstLoad = 50_000;
const everything = 120_000; // what the worker keeps on a caretaker's phone

const sent = (path) => {
  const file = join(folder, path === "/" ? "index.html" : path);
  return statSync(existsSync(`${file}.br`) ? `${file}.br` : file).size;
};
const sum = (paths) => paths.reduce((total, path) => total + sent(path), 0);

const { shell, later, roles } = JSON.parse(readFileSync(join(folder, "files.json"), "utf8"));
const isPicture = (path) => /\.(png|svg|webmanifest)$/.test(path);
const needed = [...shell.filter((path) => !isPicture(path)), ...(roles.phone ?? [])];
const kept = [...shell, ...later, ...(roles.phone ?? []), "/sw.js"];

for (const path of needed) console.log(String(sent(path)).padStart(8), path);
console.log(String(sum(needed)).padStart(8), `first load of a caretaker (at most ${firstLoad})`);
console.log(String(sum(kept)).padStart(8), `kept on a caretaker's phone (at most ${everything})`);
for (const [role, files] of Object.entries(roles))
  console.log(String(sum(files)).padStart(8), `added by ${role}`);

if (sum(needed) > firstLoad || sum(kept) > everything) {
  console.error("The byte budget is exceeded. Look at the largest files above.");
  process.exit(1);
}
