import { beforeEach, expect, it, vi } from "vitest";
import { area, language, speak } from "./language";

beforeEach(() => {
  language.value = "en";
});

const files = {
  en: async () => ({ default: { hello: "Hello" } }),
  fr: async () => ({ default: { hello: "Bonjour" } }),
};

it("speaks the other language once its words are there", async () => {
  const greetings = area(files);
  await greetings.load();
  expect(greetings().hello).toBe("Hello");
  await speak("fr");
  expect(greetings().hello).toBe("Bonjour");
  expect(document.documentElement.lang).toBe("fr");
});

it("brings a file once and brings no language nobody asked for", async () => {
  const en = vi.fn(files.en);
  const fr = vi.fn(files.fr);
  const greetings = area({ en, fr });
  await greetings.load();
  await greetings.load();
  expect(en).toHaveBeenCalledTimes(1);
  expect(fr).not.toHaveBeenCalled();
});

it("stays as it is when the words cannot be brought", async () => {
  const broken = area({ en: files.en, fr: () => Promise.reject(new Error("no network")) });
  await broken.load();
  await expect(speak("fr")).rejects.toThrow("no network");
  expect(language.value).toBe("en");
});
