import { defineConfig } from "vitest/config";

export default defineConfig({
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  test: {
    environment: "jsdom",
    include: ["src/**/*.test.{ts,tsx}", "build/**/*.test.ts"],
    setupFiles: ["src/testing/setup.ts"],
    restoreMocks: true,
    unstubGlobals: true,
  },
});
