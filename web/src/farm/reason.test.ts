// @vitest-environment node
import { expect, it } from "vitest";
import en from "./en";
import fr from "./fr";
import { sayReason, Values } from "./reason";

const plain = (text: string) => text.replace(/[\u00a0\u202f]/g, " ");

it("puts a code and its values into a sentence of either language", () => {
  const reason = { code: "no-news", values: { since: "2026-03-12", days: 22 } };
  expect(plain(sayReason(reason, en))).toBe("Nothing heard since 12 Mar 2026, 22 days.");
  expect(plain(sayReason(reason, fr))).toBe("Sans nouvelles depuis le 12 mars 2026, soit 22 jours.");
});

it("shows a code that it has no sentence for", () => {
  expect(sayReason({ code: "moon-wrong", values: { days: 3 } }, en)).toBe(
    "Another reason: moon-wrong (days: 3)",
  );
  expect(sayReason({ code: "toString" }, fr)).toBe("Autre raison : toString");
});

it.each([en, fr])("says something for every code even without values", (words) => {
  for (const [code, sentence] of Object.entries(words.reasons)) {
    const said = sentence(new Values());
    expect(said, code).toMatch(/\S.*\.$/);
    expect(said, code).not.toMatch(/undefined|NaN|null/);
  }
});
