import { fireEvent, render, screen } from "@testing-library/preact";
import { beforeEach, expect, it, vi } from "vitest";
import { language } from "../i18n/language";
import { accessible } from "../testing/axe";
import { Ask } from "./ask";
import { typedOn } from "./pad";
import { learnWords } from "./words";

beforeEach(async () => {
  await Promise.all([learnWords.load("en"), learnWords.load("fr")]);
  language.value = "en";
});

const question = {
  key: "q",
  kind: "sum" as const,
  safety: false,
  card: "c",
  ask: "How much feed?",
  why: "",
  answer: 1.5,
  tolerance: 0,
  measure: "kg",
};

function show() {
  const onAnswer = vi.fn();
  const shown = render(
    <Ask question={question} asked={{ question: "q", options: [] }} drawings={{}} onAnswer={onAnswer} />,
  );
  const press = (...names: string[]) => {
    for (const name of names) fireEvent.click(screen.getByRole("button", { name }));
  };
  return { ...shown, onAnswer, press };
}

it.each([
  ["", "1", "1"],
  ["1", ",", "1,"],
  ["", ",", "0,"],
  ["1,5", ",", "1,5"],
  ["1.5", ",", "1.5"],
  ["12", "back", "1"],
  ["", "back", ""],
  ["123456789012", "3", "123456789012"],
])("on %j the key %s leaves %j", (text, key, want) => {
  expect(typedOn(text, key)).toBe(want);
});

it("takes a number by large keys, with the decimal mark of the language", async () => {
  language.value = "fr";
  const { onAnswer, press, container } = show();
  await accessible(container);
  press("1", "Virgule", "6", "Effacer le dernier", "5");
  expect((screen.getByRole("textbox") as HTMLInputElement).value).toBe("1,5");
  fireEvent.submit(container.querySelector("form") as HTMLFormElement);
  expect(onAnswer).toHaveBeenCalledWith({ number: 1.5 });
});

it("takes it from a keyboard too, and says what is no number", () => {
  const { onAnswer, container } = show();
  const field = screen.getByRole("textbox");
  fireEvent.input(field, { target: { value: "two" } });
  expect(screen.getByText(/“two” is not a number/)).toBeTruthy();
  fireEvent.submit(container.querySelector("form") as HTMLFormElement);
  expect(onAnswer).not.toHaveBeenCalled();
  fireEvent.input(field, { target: { value: "1.5" } });
  fireEvent.submit(container.querySelector("form") as HTMLFormElement);
  expect(onAnswer).toHaveBeenCalledWith({ number: 1.5 });
});
