import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { resolve } from "node:path";
import type { Plugin } from "vite";
import { type Chunk, listFiles } from "./files.ts";

const source = "src/sw.js";

/**
 * serviceWorker writes sw.js with the list of built files in it, sorted by
 * role, and files.json with the same for the budget. Its version is a hash of
 * everything it serves, so that a release without a change is no release.
 */
export function serviceWorker(): Plugin {
  let root = ".";
  return {
    name: "tendfold-service-worker",
    apply: "build",
    configResolved(config) {
      root = config.root;
    },
    generateBundle: {
      // After vite has taken out the chunks that held style sheets alone.
      order: "post",
      handler(_, bundle) {
        const files = Object.values(bundle);
        const lists = listFiles(files.filter((f) => f.type === "chunk").map(chunkOf));
        const still = publicFiles(resolve(root, "public"));
        const shell = ["/", ...lists.shell.map(address), ...still.map(address)];
        const later = lists.later.map(address);
        const roles = Object.fromEntries(Object.entries(lists.roles).map(([r, l]) => [r, l.map(address)]));
        const hash = createHash("sha256").update(JSON.stringify([shell, later, roles]));
        for (const name of still) hash.update(readFileSync(resolve(root, "public", name)));
        // The list of hashed names says what index.html will name, but not its other words.
        hash.update(readFileSync(resolve(root, "index.html")));
        const code = readFileSync(resolve(root, source), "utf8");
        hash.update(code);
        const version = hash.digest("hex").slice(0, 12);
        this.emitFile({
          type: "asset",
          fileName: "sw.js",
          source: code
            .replace("__VERSION__", version)
            .replace('"__SHELL__"', JSON.stringify([...shell, ...later]))
            .replace('"__ROLES__"', JSON.stringify(roles)),
        });
        this.emitFile({
          type: "asset",
          fileName: "files.json",
          source: JSON.stringify({ shell, later, roles }),
        });
      },
    },
  };
}

const address = (name: string) => `/${name}`;

function chunkOf(file: {
  fileName: string;
  isEntry: boolean;
  imports: string[];
  dynamicImports: string[];
  moduleIds: string[];
}): Chunk {
  const css = (file as { viteMetadata?: { importedCss?: Set<string> } }).viteMetadata?.importedCss;
  const { fileName, isEntry, imports, dynamicImports } = file;
  return { fileName, isEntry, imports, dynamicImports, modules: file.moduleIds, css: [...(css ?? [])] };
}

// Bitmaps of the icon are for the system that installs the app; it fetches them itself.
function publicFiles(folder: string): string[] {
  return existsSync(folder) ? readdirSync(folder).filter((name) => !/^\.|\.png$/.test(name)) : [];
}
