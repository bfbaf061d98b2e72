import { fileURLToPath } from "node:url";
import preact from "@preact/preset-vite";
import { defineConfig } from "vite";

// Every component once, with sample data, for the browser tests alone: it is
// built apart and no part of it is in the app.
export default defineConfig({
  root: fileURLToPath(new URL(".", import.meta.url)),
  base: "./",
  plugins: [preact({ devToolsEnabled: false, prefreshEnabled: false })],
  build: { outDir: "dist", emptyOutDir: true, modulePreload: false },
});
