import "fake-indexeddb/auto";
import { beforeEach, expect, it, vi } from "vitest";
import { begin, type Grant } from "../../api/session";
import { language } from "../../i18n/language";
import { wipe } from "../../offline/db";
import { fakeLocks } from "../../testing/locks";
import { keeper } from "./data";

const grant = (id: string): Grant => ({
  access_token: `token of ${id}`,
  person: { id, name: id, language: "en", grants: [{ role: "caretaker", branch_id: "" }] },
});

let answers: (() => Response | Promise<Response>)[] = [];
const fetched = vi.fn(async (_url: string, _init: RequestInit) => {
  const next = answers.shift();
  if (!next) throw new TypeError("failed");
  return next();
});
const given = (body: unknown, etag = '"1"') =>
  new Response(JSON.stringify(body), { headers: { ETag: etag } });
const asked = (n: number) => (fetched.mock.calls[n]?.[1].headers ?? {}) as Record<string, string>;

beforeEach(async () => {
  answers = [];
  fetched.mockClear();
  vi.stubGlobal("fetch", fetched);
  vi.stubGlobal("navigator", { locks: fakeLocks() });
  language.value = "en";
  begin(grant("p1"));
  await wipe();
});

it("keeps the answer for the days without network", async () => {
  answers = [() => given({ n: 1 })];
  await keeper("/api/thing").bring();
  const later = keeper<{ n: number }>("/api/thing");
  await later.bring();
  expect(later.now().value).toEqual({ n: 1 });
  expect(later.now().error).toMatchObject({ code: "no-network" });
});

it("asks by the ETag and takes 304 for a fresh look at the same", async () => {
  const held = keeper<{ n: number }>("/api/thing");
  answers = [() => given({ n: 1 }), () => new Response(null, { status: 304 })];
  await held.bring();
  const first = held.now().at;
  await new Promise((done) => setTimeout(done, 2));
  await held.bring();
  expect(asked(1)["If-None-Match"]).toBe('"1"');
  expect(held.now()).toMatchObject({ value: { n: 1 }, error: null });
  expect(Number(held.now().at)).toBeGreaterThan(Number(first));
});

it("asks for the whole again in another language", async () => {
  const held = keeper<{ n: number }>("/api/thing");
  answers = [() => given({ n: 1 }), () => given({ n: 2 })];
  await held.bring();
  language.value = "fr";
  await held.bring();
  expect(fetched.mock.calls[1]?.[0]).toBe("/api/thing?lang=fr");
  expect(asked(1)["If-None-Match"]).toBeUndefined();
  expect(held.now().value).toEqual({ n: 2 });
});

it("shows one person's day to no other", async () => {
  const held = keeper<{ n: number }>("/api/thing");
  answers = [() => given({ n: 1 })];
  await held.bring();
  begin(grant("p2"));
  expect(held.now().value).toBeNull();
  await held.bring();
  expect(held.now().value).toBeNull();
  begin(grant("p1"));
  await held.bring();
  expect(held.now().value).toEqual({ n: 1 });
});

it("lets a late answer not put back an older day", async () => {
  const held = keeper<{ n: number }>("/api/thing");
  let late: (answer: Response) => void = () => undefined;
  answers = [() => new Promise<Response>((done) => (late = done)), () => given({ n: 2 })];
  const first = held.bring();
  await vi.waitFor(() => expect(fetched).toHaveBeenCalledTimes(1));
  await held.bring();
  late(given({ n: 1 }));
  await first;
  expect(held.now().value).toEqual({ n: 2 });
});
