import "fake-indexeddb/auto";
import { beforeEach, expect, it, vi } from "vitest";
import { begin, type Grant, signOut } from "../api/session";
import { fakeLocks } from "../testing/locks";
import { db, wipe } from "./db";
import {
  again,
  discard,
  entries,
  flush,
  keep,
  needing,
  startSending,
  underWay,
  unsent,
  waitsForSignIn,
} from "./outbox";

const grant = (id: string): Grant => ({
  access_token: `token of ${id}`,
  person: { id, name: id, language: "en", grants: [{ role: "caretaker", branch_id: "" }] },
});

type Answer = () => Response | Promise<Response>;
const ok: Answer = () => new Response("{}", { status: 201 });
const noAnswer: Answer = () => Promise.reject(new TypeError("failed"));
const problem =
  (status: number, code: string): Answer =>
  () =>
    new Response(JSON.stringify({ code, detail: "In words." }), { status });

let answers: Answer[] = [];
const fetched = vi.fn(async (_url: string, _init: RequestInit) => (answers.shift() ?? ok)());
const posts = () => fetched.mock.calls.filter(([url]) => url === "/api/things");
const keysSent = () =>
  posts().map(([, init]) => (init.headers as Record<string, string>)["Idempotency-Key"] as string);

beforeEach(async () => {
  answers = [];
  fetched.mockClear();
  vi.stubGlobal("fetch", fetched);
  vi.stubGlobal("navigator", { locks: fakeLocks() });
  begin(grant("p1"));
  await wipe();
  await flush();
});

const thing = (n: number) => ({ path: "/api/things", body: { n }, what: `thing ${n}` });
// Waits for the turns that were asked for so far and asks for none.
const settled = () => navigator.locks.request("tendfold.outbox", () => undefined);

it("is on the disk before it is sent", async () => {
  answers = [noAnswer];
  const entry = await keep(thing(1));
  expect(await (await db()).getFromIndex("outbox", "id", entry.id)).toMatchObject({
    state: "kept",
    body: { n: 1 },
  });
  await settled();
  expect(unsent.value).toBe(1);
});

it("sends once what met no network, under the same key", async () => {
  answers = [noAnswer];
  const entry = await keep(thing(1));
  await settled();
  await flush();
  await flush();
  expect(new Set(keysSent())).toEqual(new Set([entry.id]));
  expect(entries.value).toMatchObject([{ id: entry.id, state: "sent" }]);
  expect(underWay.value).toEqual([]);
});

it("sends in the order of making, also what comes while it sends", async () => {
  answers = [noAnswer];
  await keep(thing(1));
  await settled();
  fetched.mockClear();
  answers = [
    async () => {
      await keep(thing(2));
      return new Response("{}");
    },
  ];
  await flush();
  await settled();
  expect(posts().map(([, init]) => JSON.parse(String(init.body)).n)).toEqual([1, 2]);
});

it.each([
  ["no answer", noAnswer],
  ["408", problem(408, "timeout")],
  ["429", problem(429, "too-many")],
  ["503", problem(503, "busy")],
  ["500", problem(500, "internal")],
])("keeps the rest back after %s", async (_, answer) => {
  answers = [noAnswer, noAnswer];
  await keep(thing(1));
  await settled();
  await keep(thing(2));
  await settled();
  fetched.mockClear();
  answers = [answer];
  await flush();
  expect(posts()).toHaveLength(1);
  expect(unsent.value).toBe(2);
});

it("marks what the server refuses and goes on with the next", async () => {
  answers = [problem(422, "date-ahead")];
  await keep(thing(1));
  await settled();
  await keep(thing(2));
  await settled();
  expect(entries.value.map((e) => e.state)).toEqual(["needs-you", "sent"]);
  expect(entries.value[0]?.problem).toEqual({ code: "date-ahead", text: "In words.", fields: [] });
  expect(needing.value).toBe(1);
});

it("sends a refused one again: unchanged under its key, changed under a new one", async () => {
  answers = [problem(409, "conflict"), problem(409, "conflict"), ok];
  const entry = await keep(thing(1));
  await settled();
  await again(entries.value[0] as never);
  await again(entries.value[0] as never, { n: 9 });
  expect(keysSent()[1]).toBe(entry.id);
  expect(keysSent()[2]).not.toBe(entry.id);
  expect(entries.value).toMatchObject([{ state: "sent", body: { n: 9 } }]);
});

it("throws away only what it is told to", async () => {
  answers = [problem(422, "invalid")];
  await keep(thing(1));
  await settled();
  await discard(entries.value[0] as never);
  expect(await (await db()).count("outbox")).toBe(0);
});

it("keeps everything and asks for a sign-in on 401", async () => {
  answers = [problem(401, "token-expired"), problem(401, "session-ended")];
  await keep(thing(1));
  await settled();
  expect(waitsForSignIn.value).toBe(true);
  expect(await (await db()).count("outbox")).toBe(1);
  begin(grant("p1"));
  await flush();
  expect(entries.value[0]?.state).toBe("sent");
  expect(waitsForSignIn.value).toBe(false);
});

it("sends nobody's entries as somebody else", async () => {
  answers = [noAnswer];
  await keep(thing(1));
  await settled();
  begin(grant("p2"));
  fetched.mockClear();
  await flush();
  expect(fetched).not.toHaveBeenCalled();
  expect(entries.value).toEqual([]);
  expect(await (await db()).count("outbox")).toBe(1);
});

it("keeps nothing for nobody", async () => {
  await signOut();
  await expect(keep(thing(1))).rejects.toMatchObject({ code: "signed-out" });
});

it("starts by itself when the network comes back", async () => {
  answers = [noAnswer, noAnswer];
  await keep(thing(1));
  await settled();
  const stop = startSending();
  await vi.waitFor(() => expect(posts()).toHaveLength(2));
  await settled();
  window.dispatchEvent(new Event("online"));
  await vi.waitFor(() => expect(entries.value[0]?.state).toBe("sent"));
  stop();
});

// Entries of farms go together, in pages.
const farmEntry = (n: number) => ({ path: "/api/sync", body: { id: `e${n}` }, what: `entry ${n}` });
const pages = () =>
  fetched.mock.calls
    .filter(([url]) => url === "/api/sync")
    .map(([, init]) => JSON.parse(String(init.body)).entries.map((e: { id: string }) => e.id));
const receipts =
  (...states: string[]): Answer =>
  () =>
    new Response(
      JSON.stringify({
        receipts: states.map((state) => ({
          state,
          ...(state === "refused" ? { problem: { code: "on", detail: "In words." } } : {}),
        })),
      }),
    );

it("sends farm entries in one page and gives each its own receipt", async () => {
  answers = [noAnswer, noAnswer, noAnswer];
  for (const n of [1, 2, 3]) {
    await keep(farmEntry(n));
    await settled();
  }
  fetched.mockClear();
  answers = [receipts("kept", "refused", "kept-before")];
  await flush();
  expect(pages()).toEqual([["e1", "e2", "e3"]]);
  expect(entries.value.map((e) => e.state)).toEqual(["sent", "needs-you", "sent"]);
  expect(entries.value[1]?.problem).toEqual({ code: "on", text: "In words.", fields: [] });
});

it("keeps a page whose answer was dropped and sends the same entries again", async () => {
  answers = [noAnswer];
  await keep(farmEntry(1));
  await settled();
  answers = [receipts("kept-before")];
  await flush();
  expect(pages()).toEqual([["e1"], ["e1"]]);
  expect(entries.value[0]?.state).toBe("sent");
});

it("leaves for later what the server could not take yet", async () => {
  answers = [noAnswer, noAnswer];
  await keep(farmEntry(1));
  await settled();
  await keep(farmEntry(2));
  await settled();
  fetched.mockClear();
  answers = [receipts("later", "kept")];
  await flush();
  expect(entries.value.map((e) => e.state)).toEqual(["kept", "sent"]);
  expect(pages()).toHaveLength(1);
});

it("keeps the order of making between pages and single requests", async () => {
  answers = [noAnswer, noAnswer, noAnswer];
  for (const one of [farmEntry(1), thing(2), farmEntry(3)]) {
    await keep(one);
    await settled();
  }
  fetched.mockClear();
  answers = [receipts("kept"), ok, receipts("kept")];
  await flush();
  expect(fetched.mock.calls.map(([url]) => url)).toEqual(["/api/sync", "/api/things", "/api/sync"]);
});
