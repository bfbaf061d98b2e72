import { beforeEach, expect, expectTypeOf, it, vi } from "vitest";
import { clientFor } from "./client";
import { Problem } from "./problem";
import { begin, type Grant, person, refresh, signOut } from "./session";

// What openapi-typescript makes of a small API.
interface Paths {
  "/api/things/{id}": {
    get: {
      parameters: { path: { id: string }; query?: { q?: string; tag?: string[] } };
      responses: { 200: { content: { "application/json": { name: string } } } };
    };
    put: {
      parameters: { path: { id: string } };
      requestBody: { content: { "application/json": { name: string } } };
      responses: { 204: { content?: never } };
    };
    post?: never;
  };
  "/api/things": {
    post: {
      requestBody: { content: { "application/json": { name: string } } };
      responses: { 201: { content: { "application/json": { id: string } } } };
    };
  };
}

const api = clientFor<Paths>();
const grant = (token: string): Grant => ({
  access_token: token,
  person: { id: "p1", name: "Ana", language: "en", grants: [{ role: "advisor", branch_id: "" }] },
});

const answers: (Response | Error)[] = [];
const fetched = vi.fn(async (_url: string, _init: RequestInit): Promise<Response> => {
  const next = answers.shift();
  if (!next) throw new Error("the test expected no further request");
  if (next instanceof Error) throw next;
  return next;
});
const json = (body: unknown, status = 200, headers: Record<string, string> = {}) =>
  new Response(JSON.stringify(body), { status, headers });
const problem = (status: number, code: string) => json({ code, detail: "In English." }, status);
const request = (n: number) => {
  const [url, init] = fetched.mock.calls[n] as [string, RequestInit];
  return { url, init, headers: init.headers as Record<string, string> };
};

beforeEach(() => {
  answers.length = 0;
  fetched.mockClear();
  vi.stubGlobal("fetch", fetched);
  vi.stubGlobal("navigator", {
    ...navigator,
    locks: { request: (_: string, run: () => unknown) => Promise.resolve().then(run) },
  });
  begin(grant("first"));
});

it("types path, query, body and answer", async () => {
  answers.push(json({ name: "Tank" }, 200, { ETag: '"3"' }));
  const answer = await api.get("/api/things/{id}", {
    path: { id: "a/b" },
    query: { q: "é", tag: ["x", "y"] },
  });
  expectTypeOf(answer.body).toEqualTypeOf<{ name: string }>();
  expect(answer).toEqual({ status: 200, body: { name: "Tank" }, etag: '"3"' });
  expect(request(0).url).toBe("/api/things/a%2Fb?q=%C3%A9&tag=x&tag=y");
  expect(request(0).headers.Authorization).toBe("Bearer first");
  // @ts-expect-error a path parameter is missing
  api.get("/api/things/{id}").catch(() => undefined);
  // @ts-expect-error there is no such path
  api.get("/api/nothing").catch(() => undefined);
});

it("names the version that a write means", async () => {
  answers.push(new Response(null, { status: 204 }));
  await api.put("/api/things/{id}", { path: { id: "1" }, body: { name: "x" }, version: 3 });
  expect(request(0).headers["If-Match"]).toBe('"3"');
  expect(request(0).headers["Idempotency-Key"]).toBeUndefined();
});

it("gives every create a key of its own, and takes one", async () => {
  answers.push(json({ id: "1" }, 201), json({ id: "2" }, 201));
  await api.post("/api/things", { body: { name: "x" } });
  await api.post("/api/things", { body: { name: "x" }, key: "mine" });
  expect(request(0).headers["Idempotency-Key"]).toMatch(/^[0-9a-f-]{36}$/);
  expect(request(1).headers["Idempotency-Key"]).toBe("mine");
});

it("refreshes once and repeats with the same key when the token has run out", async () => {
  answers.push(problem(401, "token-expired"), json(grant("second")), json({ id: "1" }, 201));
  await api.post("/api/things", { body: { name: "x" } });
  expect(request(1).url).toBe("/api/refresh");
  expect(request(2).headers.Authorization).toBe("Bearer second");
  expect(request(2).headers["Idempotency-Key"]).toBe(request(0).headers["Idempotency-Key"]);
});

it("signs out when the refresh is refused", async () => {
  answers.push(problem(401, "token-expired"), problem(401, "session-ended"));
  await expect(api.post("/api/things", { body: { name: "x" } })).rejects.toMatchObject({
    code: "session-ended",
  });
  expect(person.value).toBeNull();
});

it("stays signed in when the refresh meets no network", async () => {
  answers.push(new TypeError("failed"));
  await expect(refresh()).rejects.toMatchObject({ code: "no-network", passing: true });
  expect(person.value?.name).toBe("Ana");
});

it("brings one new token for several requests that ran out together", async () => {
  let turn: Promise<unknown> = Promise.resolve();
  vi.stubGlobal("navigator", {
    locks: {
      request: (_: string, run: () => unknown) => {
        turn = turn.then(run, run);
        return turn;
      },
    },
  });
  answers.push(json(grant("second")));
  await Promise.all([refresh(), refresh(), refresh()]);
  expect(fetched).toHaveBeenCalledTimes(1);
});

it("throws a problem with its fields", async () => {
  const fields = [{ path: "name", code: "required", text: "Give a name." }];
  answers.push(json({ code: "invalid", detail: "Not so.", fields }, 422, { "Retry-After": "30" }));
  const thrown = await api.post("/api/things", { body: { name: "" } }).catch((e) => e);
  expect(thrown).toBeInstanceOf(Problem);
  expect(thrown).toMatchObject({ status: 422, code: "invalid", message: "Not so.", fields, retryAfter: 30 });
  expect(thrown.passing).toBe(false);
});

it("makes do with an answer that is not ours", async () => {
  answers.push(new Response("<h1>Bad gateway</h1>", { status: 502 }));
  await expect(api.post("/api/things", { body: { name: "x" } })).rejects.toMatchObject({
    code: "status-502",
    passing: true,
  });
});

it("forgets the session even when signing out meets no network", async () => {
  answers.push(new TypeError("failed"));
  await signOut();
  expect(person.value).toBeNull();
});
