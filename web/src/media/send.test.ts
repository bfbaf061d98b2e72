import "fake-indexeddb/auto";
import { Blob as NodeBlob } from "node:buffer";
import { beforeEach, expect, it, vi } from "vitest";
import { begin } from "../api/session";
import { db, wipe } from "../offline/db";
import type { Entry } from "../offline/entry";
import { discard, entries, flush as flushWords, keep, again as sayAgain } from "../offline/outbox";
import { fakeLocks } from "../testing/locks";
import { allow, onWifiNow } from "./network";
import { again, flush } from "./send";
import { draft, draftsOf, media, reload, settle, waiting } from "./store";

// A server that keeps bytes as ours does, and loses answers when told to.
interface Had {
  bytes: number[];
  state: "coming" | "kept" | "refused";
}
let had: Map<string, Had>;
let sent: { method: string; path: string; size: number }[];
let lose: (path: string) => boolean;
let words: "ok" | "lost" | "refused";
let verdict: Had["state"];
let spoil: boolean;

const problem = (status: number, code: string, text = "") =>
  new Response(JSON.stringify({ code, detail: code, fields: [{ path: "offset", code, text }] }), { status });

async function answer(path: string, init: RequestInit): Promise<Response> {
  if (path === "/api/sync") {
    if (words === "lost") throw new TypeError("lost");
    const state = words === "ok" ? "kept" : "refused";
    const { entries } = JSON.parse(String(init.body));
    return new Response(JSON.stringify({ receipts: entries.map(() => ({ state })) }));
  }
  const url = new URL(path, "http://x");
  const size = init.body instanceof Blob ? init.body.size : 0;
  sent.push({ method: init.method ?? "GET", path: url.pathname, size });
  if (url.pathname === "/api/media") {
    const { id } = JSON.parse(String(init.body));
    if (!had.has(id)) had.set(id, { bytes: [], state: "coming" });
    return told(id);
  }
  const id = url.pathname.split("/")[3] ?? "";
  const mine = had.get(id) as Had;
  if (url.pathname.endsWith("/finish")) {
    if (spoil) {
      spoil = false;
      mine.bytes = [];
      return problem(409, "media-hash");
    }
    mine.state = verdict;
    return told(id);
  }
  if (Number(url.searchParams.get("offset")) !== mine.bytes.length)
    return problem(409, "media-offset", String(mine.bytes.length));
  mine.bytes.push(...new Uint8Array(await (init.body as Blob).arrayBuffer()));
  return told(id);
}

function told(id: string): Response {
  const { bytes, state } = had.get(id) as Had;
  const why = state === "refused" ? { why: "media-type" } : {};
  return new Response(JSON.stringify({ state, received: bytes.length, ...why }));
}

beforeEach(async () => {
  [had, sent, lose, words, verdict, spoil] = [new Map(), [], () => false, "ok", "kept", false];
  localStorage.clear();
  vi.stubGlobal("navigator", { locks: fakeLocks() });
  vi.stubGlobal("Blob", NodeBlob); // jsdom's cannot be read
  vi.stubGlobal("fetch", async (path: string, init: RequestInit) => {
    const given = await answer(path, init);
    if (lose(path)) throw new TypeError("lost");
    return given;
  });
  begin({
    access_token: "t",
    person: { id: "p1", name: "p1", language: "en", grants: [{ role: "caretaker", branch_id: "" }] },
  });
  await wipe();
  await reload();
  onWifiNow.value = false;
  allow("any");
});

const bytes = (n: number) => Uint8Array.from({ length: n }, (_, i) => i % 251);
const take = (n = 100_000) =>
  draft({ farm: "f1", slot: "s", kind: "photo", type: "image/jpeg", bytes: bytes(n) });
async function say(...ids: string[]): Promise<void> {
  await keep({ path: "/api/sync", body: { id: "e1", data: { media: ids } }, what: "the soil", id: "e1" });
  await flushWords();
}

it("sends a photo after its entry, in pieces of 32 kB, once", async () => {
  const photo = await take();
  await flush();
  expect(sent).toEqual([]); // no entry names it yet
  await say(photo.id);
  await flush();
  await flush();
  expect(had.get(photo.id)).toEqual({ bytes: [...bytes(100_000)], state: "kept" });
  const pieces = sent.filter((s) => s.method === "PUT").map((s) => s.size);
  expect(pieces).toEqual([32_768, 32_768, 32_768, 1_696]);
  expect(media.value).toMatchObject([{ state: "sent", entry: "e1", what: "the soil", bytes: { length: 0 } }]);
});

it("waits while words wait, and with an entry that was refused", async () => {
  const photo = await take();
  words = "lost";
  await say(photo.id);
  await flush();
  expect(sent).toEqual([]);
  words = "refused";
  await flushWords();
  await flush();
  expect(sent).toEqual([]);
  expect(waiting.value).toHaveLength(1);
});

it("goes on where it was when an answer is lost", async () => {
  const photo = await take();
  await say(photo.id);
  for (const lost of ["/api/media", "offset=0", "offset=65536", "finish"]) {
    lose = (path) => path.includes(lost) && (lost !== "/api/media" || path === lost);
    await flush();
    expect(waiting.value).toHaveLength(1);
  }
  lose = () => false;
  await flush();
  expect(had.get(photo.id)).toEqual({ bytes: [...bytes(100_000)], state: "kept" });
  expect(waiting.value).toEqual([]);
  const pieces = sent.filter((s) => s.method === "PUT");
  expect(pieces).toHaveLength(4); // no byte went twice
});

it("starts anew once when a byte changed on the way", async () => {
  const photo = await take(1_000);
  await say(photo.id);
  spoil = true;
  await flush();
  expect(had.get(photo.id)?.state).toBe("kept");
});

it("keeps what the server refuses, with the reason", async () => {
  const photo = await take(1_000);
  await say(photo.id);
  verdict = "refused";
  await flush();
  expect(media.value).toMatchObject([{ state: "needs-you", why: "media-type", bytes: { length: 1_000 } }]);
  verdict = "kept";
  had.clear();
  await again(media.value[0] as never);
  expect(media.value).toMatchObject([{ state: "sent" }]);
  expect(photo.id).toBe(media.value[0]?.id);
});

it("holds photos back for Wi-Fi until the person says it is there", async () => {
  allow("wifi");
  const photo = await take(1_000);
  await say(photo.id);
  await flush();
  expect(sent).toEqual([]);
  vi.stubGlobal("navigator", { locks: fakeLocks(), connection: { type: "cellular" } });
  onWifiNow.value = true;
  await flush();
  expect(sent).toEqual([]);
  vi.stubGlobal("navigator", { locks: fakeLocks() });
  await flush();
  expect(had.get(photo.id)?.state).toBe("kept");
});

it("looks again for what is linked while a turn is about to end", async () => {
  // A browser tells late that a turn is over; what is asked meanwhile counts.
  const tells: (() => void)[] = [];
  const locks = fakeLocks();
  const told = () => new Promise<void>((done) => tells.push(done));
  const late = async (name: string, run: () => Promise<unknown>) => {
    const end = await locks.request(name, run);
    if (name === "tendfold.media" && tells.length === 0) await told();
    return end;
  };
  vi.stubGlobal("navigator", { locks: { request: late } });
  const photo = await take(1_000);
  const first = flush();
  await vi.waitFor(() => expect(tells).toHaveLength(1));
  await say(photo.id);
  const second = flush();
  tells[0]?.();
  await Promise.all([first, second]);
  expect(had.get(photo.id)?.state).toBe("kept");
});

it("takes up what an entry names before the page has read its entries", async () => {
  const photo = await take(10);
  await (await db()).add("outbox", {
    id: "e2",
    person: "p1",
    at: new Date().toISOString(),
    method: "POST",
    path: "/api/sync",
    body: { id: "e2", data: { media: [photo.id] } },
    what: "the soil",
    state: "kept",
  });
  await settle(Date.now() + 2 * 86_400_000);
  expect(media.value).toMatchObject([{ id: photo.id, entry: "e2" }]);
});

it("follows an entry that is put right, and goes with one that is thrown away", async () => {
  const photo = await take(1_000);
  words = "refused";
  await say(photo.id);
  const [refused] = entries.value;
  words = "ok";
  await sayAgain(refused as Entry, { ...(refused?.body as object), on: "2026-03-01" });
  await flush();
  expect(media.value).toMatchObject([{ state: "sent", entry: entries.value[0]?.id }]);
  const other = await take(10);
  words = "refused";
  await keep({ path: "/api/sync", body: { id: "e9", data: { media: [other.id] } }, what: "x", id: "e9" });
  await flushWords();
  await settle();
  await discard(entries.value.find((e) => e.id === "e9") as Entry);
  await settle();
  expect(media.value.map((m) => m.id)).toEqual([photo.id]);
});

it("has a draft again after a crash, and forgets it after a day", async () => {
  const photo = await take(10);
  expect(await draftsOf("f1", "s")).toMatchObject([{ id: photo.id }]);
  expect(await draftsOf("f1", "another form")).toEqual([]);
  await settle(Date.now() + 2 * 86_400_000);
  expect(media.value).toEqual([]);
});

it("takes up what an entry names even when the page died between the two", async () => {
  const photo = await take(10);
  words = "lost";
  await say(photo.id);
  await settle(Date.now() + 2 * 86_400_000);
  expect(media.value).toMatchObject([{ id: photo.id, entry: "e1" }]);
  expect(await draftsOf("f1", "s")).toEqual([]);
});
