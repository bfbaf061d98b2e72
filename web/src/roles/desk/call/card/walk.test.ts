import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import type { Card } from "./cards";
import { plain, sizeOf } from "./text-size";
import { type Given, walk } from "./walk";

interface Case {
  name: string;
  given: Given[];
  next: string;
  ending: string;
  sign: string;
  impact: string;
  time_to_loss: string;
  suspects: string;
  refused?: boolean;
}

const file: { card: Card; cases: Case[] } = JSON.parse(
  readFileSync("../domain/triage/testdata/walks.json", "utf8"),
);

it.each(file.cases)("walks as the server does: $name", (c) => {
  const out = walk(file.card, c.given);
  if (c.refused) return expect(out).toBeUndefined();
  expect(out && { ...out, suspects: out.suspects.map((s) => `${s.cause} ${s.word}`).join(", ") }).toEqual({
    next: c.next,
    ending: c.ending,
    sign: c.sign,
    suspects: c.suspects,
    impact: c.impact,
    timeToLoss: c.time_to_loss,
    danger: false,
  });
});

// Every character of the default alphabet with its septets, from a library of
// others (see the head of the file); all other characters below U+0250 cost UCS-2.
it("counts the short alphabet as the standard has it", () => {
  const septets = new Map(
    readFileSync("../domain/text/testdata/gsm0338.txt", "utf8")
      .split("\n")
      .filter((l) => /^[0-9A-F]/.test(l))
      .map((l) => l.split(" "))
      .map(([code = "", n]) => [Number.parseInt(code, 16), Number(n)]),
  );
  expect(septets.size).toBe(137);
  for (let code = 1; code < 0x250; code++) {
    const size = sizeOf(String.fromCodePoint(code));
    const cost = septets.get(code);
    expect([code, size.odd === "", 160 - size.left]).toEqual(
      cost ? [code, true, cost] : [code, false, expect.anything()],
    );
  }
});

// 3GPP TS 23.040: 160 and 153 septets, 70 and 67 units; a pair is never cut.
it.each([
  ["", 0, 160],
  ["a".repeat(160), 1, 0],
  ["a".repeat(161), 2, 145],
  [`${"a".repeat(152)}€${"a".repeat(10)}`, 2, 141],
  ["ê".repeat(70), 1, 0],
  ["ê".repeat(71), 2, 63],
  [`${"ê".repeat(66)}🐌${"ê".repeat(10)}`, 2, 55],
])("counts the parts of %j", (text, parts, left) => {
  expect(sizeOf(text)).toMatchObject({ parts, left });
});

it("says French within the short alphabet", () => {
  const said = plain("L’hôte a reçu trois bœufs ; « déjà »… à l’aube");
  expect(said).toBe("L'hote a recu trois boeufs ; \" déjà \"... à l'aube");
  expect(sizeOf(said).odd).toBe("");
});
