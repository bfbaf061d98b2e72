// @vitest-environment node
import { expect, it } from "vitest";
import en from "../farm/en";
import fr from "../farm/fr";
import { lateHouse } from "../testing/strips";
import { sentenceOf } from "./sentence";

const plain = (text: string) => text.replace(/[\u00a0\u202f]/g, " ");

it("says the strip in English", () => {
  expect(plain(sentenceOf(lateHouse, en))).toBe(
    "Started 5 Jan 2026. 3 of 9 milestones done. The last: Planted, 2 Feb 2026. " +
      "Next: Plant cover ready. Planned between 12 Feb 2026 and 14 Mar 2026. " +
      "Most likely 24 Mar 2026, 9 times in 10 before 4 Apr 2026. " +
      "First harvest. Planned between 20 Dec 2026 and 2 Apr 2027. " +
      "Most likely 1 Mar 2027, 9 times in 10 before 4 May 2027. First harvest 19 days late.",
  );
});

it("says it in French", () => {
  const said = plain(sentenceOf({ ...lateHouse, slip: -4 }, fr));
  expect(said).toContain("3 étapes faites sur 9.");
  expect(said).toContain("9 fois sur 10 avant le 4 mai 2027.");
  expect(said).toContain("Première récolte : 4 jours d’avance.");
});

it("says little when little is known", () => {
  expect(sentenceOf({ start: "", today: "2026-03-12", harvest: "h", milestones: [] }, en)).toBe(
    "No dates yet.",
  );
});
