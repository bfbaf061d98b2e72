import { vi } from "vitest";
import { begin } from "../api/session";

/** What a fake server answers: a body, or a whole Response. */
type Given = unknown | Response;
type Answer = (body: unknown, headers: Record<string, string>, query: URLSearchParams) => Given;

/** A FakeServer answers by method and path ("GET /api/farms/f1") and remembers what it was asked. */
export interface FakeServer {
  on: (what: string, answer: Given | Answer) => FakeServer;
  /** Bodies of all requests of one kind, oldest first. */
  asked: (what: string) => { body: unknown; headers: Record<string, string>; query: URLSearchParams }[];
}

/** fakeServer stands in for the API while a component is tried; what it does not know is 404. */
export function fakeServer(): FakeServer {
  const answers = new Map<string, Given | Answer>();
  const log: { what: string; body: unknown; headers: Record<string, string>; query: URLSearchParams }[] = [];
  vi.stubGlobal("fetch", async (address: string, init: RequestInit = {}) => {
    const [path = "", search = ""] = address.split("?");
    const what = `${init.method ?? "GET"} ${path}`;
    const headers = (init.headers ?? {}) as Record<string, string>;
    const body = init.body ? JSON.parse(String(init.body)) : undefined;
    const query = new URLSearchParams(search);
    log.push({ what, body, headers, query });
    const answer = answers.get(what);
    if (answer === undefined) return problem(404, "not-found");
    const given = typeof answer === "function" ? (answer as Answer)(body, headers, query) : answer;
    return given instanceof Response ? given : new Response(JSON.stringify(given));
  });
  const server: FakeServer = {
    on: (what, answer) => {
      answers.set(what, answer);
      return server;
    },
    asked: (what) => log.filter((l) => l.what === what),
  };
  return server;
}

/** problem is a refusal as the server words it. */
export function problem(status: number, code: string, fields: object[] = []): Response {
  return new Response(JSON.stringify({ code, status, detail: code, fields }), { status });
}

/** signInAs begins a session of a member of staff. */
export function signInAs(id: string, role = "advisor", branch = ""): void {
  const grants = [{ role: role as "advisor", branch_id: branch }];
  begin({ access_token: `token of ${id}`, person: { id, name: id, language: "en", grants } });
}
