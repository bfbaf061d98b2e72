// Contrast by WCAG 2.2: success criteria 1.4.3 (text 4.5:1) and 1.4.11
// (controls and focus 3:1); relative luminance as defined in its glossary.
// @vitest-environment node
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

const css = readFileSync(new URL("./tokens.css", import.meta.url), "utf8");

function block(selector: string): Record<string, string> {
  const start = css.indexOf(`${selector} {`);
  if (start < 0) throw new Error(`no block ${selector} in tokens.css`);
  const body = css.slice(css.indexOf("{", start) + 1, css.indexOf("}", start));
  return Object.fromEntries([...body.matchAll(/--([\w-]+):\s*(#[0-9a-f]{6})/g)].map((m) => [m[1], m[2]]));
}

function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((i) => {
    const c = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * Number(r) + 0.7152 * Number(g) + 0.0722 * Number(b);
}

function contrast(a: string, b: string): number {
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (Number(high) + 0.05) / (Number(low) + 0.05);
}

const grounds = ["paper", "paper-2"];
const onBoth = (text: string) => grounds.map((ground) => [text, ground] as const);
const textPairs = [
  ...["ink", "ink-2", "palm", "lagoon", "harmattan", "laterite", "slate"].flatMap(onBoth),
  ["harmattan", "harmattan-ground"],
  ["ink", "harmattan-ground"],
  ["laterite", "laterite-ground"],
  ["ink", "laterite-ground"],
  ["slate", "slate-ground"],
  ["ink", "slate-ground"],
  ["on-palm", "palm"],
  ["on-danger", "danger-ground"],
] as const;
const controlPairs = ["edge", "lagoon", "ink-2"].flatMap(onBoth);

describe("the contrast function", () => {
  it("agrees with the two ends that the WCAG definition gives", () => {
    expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 5);
    expect(contrast("#777777", "#777777")).toBe(1);
  });
  it("agrees with the well-known grey that just fails AA on white", () => {
    expect(contrast("#777777", "#ffffff")).toBeCloseTo(4.48, 2); // WebAIM's contrast checker, from memory
  });
});

describe.each([
  ["light", ":root"],
  ["dark by hand", ':root[data-theme="dark"]'],
  ["dark by the system", ':root:not([data-theme="light"])'],
])("%s", (_, selector) => {
  const tokens = block(selector);
  const value = (name: string) => {
    const hex = tokens[name];
    if (!hex) throw new Error(`${name} is not set in ${selector}`);
    return hex;
  };
  it.each(textPairs)("text %s on %s reads", (text, ground) => {
    expect(contrast(value(text), value(ground))).toBeGreaterThanOrEqual(4.5);
  });
  it.each(controlPairs)("control %s on %s shows", (control, ground) => {
    expect(contrast(value(control), value(ground))).toBeGreaterThanOrEqual(3);
  });
});

it("keeps the two dark blocks equal", () => {
  expect(block(':root[data-theme="dark"]')).toEqual(block(':root:not([data-theme="light"])'));
});
