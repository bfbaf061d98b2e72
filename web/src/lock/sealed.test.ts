import "fake-indexeddb/auto";
import { beforeEach, expect, it, vi } from "vitest";
import { begin, type Grant } from "../api/session";
import { db, wipe } from "../offline/db";
import { discard, entries, flush, keep, needing, shut, unsent } from "../offline/outbox";
import { fakeLocks } from "../testing/locks";
import { renewKey, sealRest } from "./sealing";
import { wipeReadable } from "./wipe";

const grant = (id: string): Grant => ({
  access_token: `token of ${id}`,
  person: { id, name: id, language: "en", grants: [{ role: "caretaker", branch_id: "" }] },
});

// The public key of RFC 7517, A.1: any point of the curve serves here.
const key = {
  kid: "k1",
  kty: "EC",
  crv: "P-256",
  x: "MKBCTNIcKUSDii11ySs3526iDZ8AiTo7Tu6KPAqv7D4",
  y: "4Etl6SRW2YiLUrN5vfvVHuhp7x8PxltmWWlbbM4IFyM",
};

let online = false;
let refuse = "";
const taken: string[] = [];

const fetched = vi.fn(async (url: string, init: RequestInit) => {
  if (url === "/api/outbox-key") return new Response(JSON.stringify(key));
  if (!online) throw new TypeError("failed");
  const { entries: sent } = JSON.parse(String(init.body)) as { entries: { id: string }[] };
  const receipts = sent.map(({ id }) => {
    if (id === refuse) return { state: "refused", problem: { code: "on", detail: "In words." } };
    taken.push(`${url} ${id}`);
    return { state: "kept" };
  });
  return new Response(JSON.stringify({ receipts }));
});

beforeEach(async () => {
  online = false;
  refuse = "";
  taken.length = 0;
  fetched.mockClear();
  vi.stubGlobal("fetch", fetched);
  vi.stubGlobal("navigator", { locks: fakeLocks() });
  begin(grant("p1"));
  await wipe();
  await flush();
});

const settled = () => navigator.locks.request("tendfold.outbox", () => undefined);
const add = async (id: string) => {
  const entry = await keep({ path: "/api/sync", body: { id }, what: id, id });
  await settled();
  return entry;
};

it("seals an entry in the moment it is written", async () => {
  await renewKey();
  await add("e1");
  const twin = await (await db()).get("sealed", "e1");
  expect(twin).toMatchObject({ id: "e1", person: "p1", kid: "k1" });
  expect(JSON.stringify(twin)).not.toContain("/api/sync");
});

it("forgets the twin of what has arrived, and of what is thrown away", async () => {
  await renewKey();
  const gone = await add("e1");
  await discard(gone);
  await add("e2");
  online = true;
  await flush();
  expect(entries.value.map((e) => e.state)).toEqual(["sent"]);
  expect(await (await db()).count("sealed")).toBe(0);
});

it("keeps an entry for which there was no key, and seals it once there is", async () => {
  await add("e1");
  expect(await (await db()).count("sealed")).toBe(0);
  await wipeReadable("p1");
  expect(await (await db()).count("outbox")).toBe(1);
  await renewKey();
  await sealRest("p1");
  await wipeReadable("p1");
  expect(await (await db()).count("outbox")).toBe(0);
  expect(await (await db()).count("sealed")).toBe(1);
});

it("wipes what can be read of one person and keeps what is not sent, sealed", async () => {
  await renewKey();
  const store = await db();
  await add("mine");
  await store.put("kept", { key: "today", person: "p1", at: 0, body: {} });
  await store.put("kept", { key: "today", person: "p2", at: 0, body: {} });
  begin(grant("p2"));
  await add("theirs");
  await wipeReadable("p1");
  expect((await store.getAll("outbox")).map((e) => e.id)).toEqual(["theirs"]);
  expect((await store.getAll("kept")).map((k) => k.person)).toEqual(["p2"]);
  expect((await store.getAllKeys("sealed")).sort()).toEqual(["mine", "theirs"]);
});

it("sends what was sealed before a wipe once its person is back, once, and for nobody else", async () => {
  await renewKey();
  await add("e1");
  await add("e2");
  await wipeReadable("p1");
  online = true;
  begin(grant("p2"));
  await flush();
  expect(unsent.value).toBe(0);
  expect(taken).toEqual([]);
  begin(grant("p1"));
  await add("e3");
  await flush();
  expect(taken).toEqual(["/api/sync/sealed e1", "/api/sync/sealed e2", "/api/sync e3"]);
  expect(unsent.value).toBe(0);
  expect(await (await db()).count("sealed")).toBe(0);
});

it("keeps back what met no network, sealed or open, and says that it waits", async () => {
  await renewKey();
  await add("e1");
  await wipeReadable("p1");
  await flush();
  expect(unsent.value).toBe(1);
  await add("e2");
  expect(unsent.value).toBe(2);
});

it("shows a sealed entry that is refused until its person decides", async () => {
  await renewKey();
  await add("e1");
  await wipeReadable("p1");
  online = true;
  refuse = "e1";
  await flush();
  expect(needing.value).toBe(1);
  expect(shut.value[0]?.problem).toEqual({ code: "on", text: "In words.", fields: [] });
  const asked = fetched.mock.calls.length;
  await flush();
  expect(fetched.mock.calls.length).toBe(asked);
  await discard(shut.value[0] as never);
  expect(needing.value).toBe(0);
});

it("brings sealed entries in pages that a weak network carries", async () => {
  await renewKey();
  const store = await db();
  await add("e0");
  const twin = await store.get("sealed", "e0");
  if (!twin) throw new Error("no twin");
  await wipeReadable("p1");
  for (let n = 1; n < 450; n++) await store.put("sealed", { ...twin, id: `e${n}` });
  await store.put("sealed", { ...twin, id: "f", ciphertext: "A".repeat(300_000) });
  online = true;
  await flush();
  const pages = fetched.mock.calls.filter(([url]) => url === "/api/sync/sealed");
  expect(pages).toHaveLength(4);
  expect(new Set(taken).size).toBe(451);
});
