import preact from "@preact/preset-vite";
import { defineConfig } from "vite";
import { serviceWorker } from "./build/service-worker.ts";

// Code that seldom changes stands in one chunk of its own, so that a release
// does not send it to the phones again.
const seldomChanges = /node_modules[\\/](preact|@preact|preact-iso|idb)[\\/]/;

// What every screen of a phone is made of travels in one file: on a weak
// network ten small ones cost ten round trips.
const everybodys =
  /[\\/]src[\\/](ui[\\/](button|choice|date-field|field|number-field|number|secret-field|sending|states|toast)|i18n|offline|time|api[\\/](explain|problem|session|transport)|phonekey[\\/](phone|seal))\b.*\.tsx?$/;

function folderOf(module: string | null): string {
  const folder = /[\\/]src[\\/](?:roles[\\/])?([\w-]+)[\\/]/.exec(module ?? "")?.[1];
  return folder ? `${folder}-` : "";
}

export default defineConfig({
  plugins: [preact({ devToolsEnabled: false, prefreshEnabled: false }), serviceWorker()],
  build: {
    // Chrome 80 runs on the oldest phones that we expect; tsconfig's lib keeps the APIs to the same year.
    target: "es2020",
    assetsInlineLimit: 0,
    modulePreload: {
      polyfill: false,
      // The page itself names what it begins with: found one after another, each file costs a slow line a round trip.
      resolveDependencies: (_, deps, { hostType }) =>
        hostType === "html" ? deps : deps.filter((d) => d.endsWith(".css")),
    },
    rolldownOptions: {
      output: {
        codeSplitting: {
          groups: [
            { name: "vendor", test: seldomChanges },
            { name: "kit", test: everybodys },
          ],
        },
        // A file is named for its folder, so that the list of bytes can be read.
        chunkFileNames: ({ facadeModuleId }) => `assets/${folderOf(facadeModuleId)}[name]-[hash].js`,
      },
    },
  },
  server: { proxy: { "/api": "http://127.0.0.1:8080" } },
});
