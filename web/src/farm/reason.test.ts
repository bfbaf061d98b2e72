// @vitest-environment node
import { expect, it } from "vitest";
import en from "./en";
import fr from "./fr";
import { sayReason, Values } from "./reason";

const plain = (text: string) => text.replace(/[\u00a0\u202f]/g, " ");

it("puts a code and its values into a sentence of either language", () => {
  const reason = { code: "no-news", values: { last: "2026-03-12", quiet_days: 22, allowed_days: 16 } };
  expect(plain(sayReason(reason, undefined, en))).toBe(
    "Nothing heard since 12 Mar 2026, for 22 days; at this stage 16 days are the most.",
  );
  expect(plain(sayReason(reason, undefined, fr))).toBe(
    "Sans nouvelles depuis le 12 mars 2026, soit 22 jours ; à ce stade, 16 jours au plus.",
  );
});

it("takes the words for keys from whoever knows them", () => {
  const reason = { code: "item-missing", values: { item: "footing-deep" } };
  const names = (kind: string, key: string) =>
    kind === "item" && key === "footing-deep" ? "Footing 20 cm deep" : undefined;
  expect(sayReason(reason, names, en)).toBe("Not verified yet: Footing 20 cm deep.");
  expect(sayReason(reason, undefined, en)).toBe("Not verified yet: footing deep.");
});

it("shows no id of a person", () => {
  const reason = { code: "caretaker-untrained", values: { person_id: "0192-ab", modules: 2 } };
  expect(plain(sayReason(reason, undefined, en))).toBe("A caretaker in charge lacks 2 modules.");
});

it("shows a code that it has no sentence for", () => {
  expect(sayReason({ code: "moon-wrong", values: { days: 3 } }, undefined, en)).toBe(
    "Another reason: moon-wrong (days: 3)",
  );
  expect(sayReason({ code: "toString" }, undefined, fr)).toBe("Autre raison : toString");
});

it.each([en, fr])("says something for every code even without values", (words) => {
  for (const [code, sentence] of Object.entries(words.reasons)) {
    const said = sentence(new Values());
    expect(said, code).toMatch(/\S.*\.$/);
    expect(said, code).not.toMatch(/undefined|NaN|null/);
  }
});
