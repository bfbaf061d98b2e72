// @vitest-environment node
import "fake-indexeddb/auto";
import { openDB } from "idb";
import { beforeEach, expect, it, vi } from "vitest";
import { begin } from "../api/session";
import { fakeLocks } from "../testing/locks";
import schema1 from "./testdata/schema-1.json";

// A phone as the first release left it: stores of version 1, rows as it wrote
// them (testdata/schema-1.json, kept as they were; do not make them anew).
async function phoneOfTheFirstRelease(): Promise<void> {
  const old = await openDB("tendfold", 1, {
    upgrade(fresh) {
      const outbox = fresh.createObjectStore("outbox", { keyPath: "seq", autoIncrement: true });
      outbox.createIndex("id", "id", { unique: true });
      fresh.createObjectStore("kept", { keyPath: ["person", "key"] });
      fresh.createObjectStore("phone", { keyPath: "id" });
    },
  });
  for (const entry of schema1.outbox) await old.add("outbox", entry);
  await old.put("phone", schema1.phone);
  old.close();
}

const sent: { path: string; body: unknown }[] = [];

beforeEach(async () => {
  sent.length = 0;
  await phoneOfTheFirstRelease();
  vi.stubGlobal("navigator", { locks: fakeLocks() });
  vi.stubGlobal("fetch", async (path: string, init: RequestInit) => {
    const body = JSON.parse(String(init.body));
    sent.push({ path, body });
    return new Response(JSON.stringify({ receipts: (body.entries ?? []).map(() => ({ state: "kept" })) }));
  });
});

it("sends what the first release kept, as it was written, and knows whose phone it is", async () => {
  begin({
    access_token: "t",
    person: { id: "p1", name: "Ama", language: "fr", grants: [{ role: "caretaker", branch_id: "" }] },
  });
  const { db } = await import("./db");
  const { entries, flush } = await import("./outbox");
  await flush();
  expect(entries.value.map((e) => e.state)).toEqual(schema1.outbox.map(() => "sent"));
  const synced = sent
    .filter((s) => s.path === "/api/sync")
    .flatMap((s) => (s.body as { entries: unknown[] }).entries);
  expect(synced).toEqual(schema1.outbox.filter((e) => e.path === "/api/sync").map((e) => e.body));
  const [phone] = await (await db()).getAll("phone");
  expect(phone).toMatchObject({ id: "p1", device: "d1", tries: 2 });
  expect(phone?.contact).toBeGreaterThan(0);
});
