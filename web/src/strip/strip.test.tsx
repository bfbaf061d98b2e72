import { render, screen } from "@testing-library/preact";
import { beforeEach, expect, it } from "vitest";
import { farmWords } from "../farm/words";
import { language } from "../i18n/language";
import { accessible } from "../testing/axe";
import { lateHouse } from "../testing/strips";
import { StripRow, StripView } from "./strip";

beforeEach(async () => {
  language.value = "en";
  await farmWords.load();
});

it("is a picture that is read as a sentence", async () => {
  const { container } = render(<StripView strip={lateHouse} />);
  expect(screen.getByRole("img").getAttribute("aria-label")).toMatch(/3 of 9 milestones done/);
  expect(container.querySelector(".strip-slip")?.textContent?.replace(/\u00a0/g, " ")).toBe(
    "First harvest 19 days late",
  );
  expect(container.querySelectorAll("figure > svg .strip-done")).toHaveLength(2);
  expect(container.querySelectorAll("figure > svg .strip-open")).toHaveLength(6);
  expect(container.querySelectorAll("figure > svg .strip-today > line")).toHaveLength(1);
  await accessible(container);
});

it("is a row with the band of the harvest alone", async () => {
  const { container } = render(<StripRow strip={lateHouse} />);
  expect(container.querySelectorAll(".strip-band")).toHaveLength(1);
  expect(container.querySelectorAll(".strip-open")).toHaveLength(2);
  expect(container.textContent?.replace(/\u00a0/g, " ")).toBe("19 days late");
  await accessible(container);
});

it("draws nothing false where nothing is known", () => {
  const { container } = render(<StripView strip={{ start: "", today: "", harvest: "", milestones: [] }} />);
  expect(screen.getByRole("img").getAttribute("aria-label")).toBe("No dates yet.");
  expect(container.innerHTML).not.toMatch(/NaN|undefined|Infinity/);
});
