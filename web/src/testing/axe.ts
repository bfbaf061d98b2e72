import axe from "axe-core";
import { expect } from "vitest";

/**
 * accessible holds a rendered part against axe's WCAG 2.2 AA rules. Colour
 * needs a real browser and is held by the contrast test and in e2e.
 */
export async function accessible(container: Element): Promise<void> {
  const found = await axe.run(container, {
    runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    rules: { "color-contrast": { enabled: false }, region: { enabled: false } },
  });
  expect(found.violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html).join(" ")}`)).toEqual([]);
}
