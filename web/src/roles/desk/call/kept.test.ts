import "fake-indexeddb/auto";
import { beforeEach, expect, it } from "vitest";
import { begin } from "../../../api/session";
import { wipe } from "../../../offline/db";
import { newDraft } from "./draft";
import { dropDraft, keepDraft, readDrafts } from "./kept";

const as = (id: string) =>
  begin({
    access_token: id,
    person: { id, name: id, language: "en", grants: [{ role: "advisor", branch_id: "" }] },
  });
const note = (farm: string, said: string) => ({
  ...newDraft({ farm: { id: farm, name: farm }, who: "", phone: "" }, new Date()),
  said,
});

beforeEach(async () => {
  await wipe();
  as("ana");
});

it("keeps one note a farm, the newest words of it", async () => {
  void keepDraft(note("f1", "The p"));
  void keepDraft(note("f2", "Eggs"));
  await keepDraft(note("f1", "The pump"));
  const kept = await readDrafts();
  expect(Object.values(kept).map((d) => d.said)).toEqual(["The pump", "Eggs"]);
});

it("forgets what was sent, and what was typed and taken back", async () => {
  await keepDraft(note("f1", "The pump"));
  await keepDraft(note("f2", "Eggs"));
  await dropDraft("f1");
  await keepDraft(note("f2", ""));
  expect(await readDrafts()).toEqual({});
});

it("shows nobody the notes of another", async () => {
  await keepDraft(note("f1", "The pump"));
  as("ben");
  expect(await readDrafts()).toEqual({});
  as("ana");
  expect(Object.keys(await readDrafts())).toEqual(["f1"]);
});
