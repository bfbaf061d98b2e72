import { vi } from "vitest";
import { begin } from "../api/session";
import { fakeLocks } from "./locks";

/** A problem, or another answer than 200, as the fake server gives it. */
export type Answer = { status?: number; body: unknown };

/** One request as the fake server saw it. */
export interface Seen {
  method: string;
  path: string;
  query: URLSearchParams;
  body: unknown;
  headers: Record<string, string>;
}

/** What is answered to one kind of request: a body, an Answer, or a function of the request that gives one of them. */
export type Told = ((seen: Seen) => unknown) | object;

/** A FakeServer answers by "METHOD /path" and remembers what it was asked, oldest first. */
export interface FakeServer {
  seen: readonly Seen[];
  /** Answers one kind of request from now on. */
  on: (what: string, told: Told) => FakeServer;
  /** All requests of one kind. */
  asked: (what: string) => Seen[];
}

/**
 * fakeServer stands in for the API while a component is tried. An address
 * that it does not know throws: to the component that is a lost network.
 */
export function fakeServer(told: Record<string, Told> = {}): FakeServer {
  const answers = new Map(Object.entries(told));
  const seen: Seen[] = [];
  // jsdom has no locks; the rest of its navigator stays, for axe asks it who it is.
  Object.defineProperty(navigator, "locks", { value: fakeLocks(), configurable: true });
  vi.stubGlobal("fetch", async (address: string, init: RequestInit = {}) => {
    const request = seenIn(address, init);
    seen.push(request);
    const what = kindOf(request);
    if (!answers.has(what)) throw new Error(`the fake server has no answer to ${what}`);
    const given = answers.get(what);
    const { status, body } = whole(typeof given === "function" ? given(request) : given);
    return new Response(JSON.stringify(body), { status, headers: { "Content-Type": "application/json" } });
  });
  const server: FakeServer = {
    seen,
    on: (what, given) => {
      answers.set(what, given);
      return server;
    },
    asked: (what) => seen.filter((s) => kindOf(s) === what),
  };
  return server;
}

const kindOf = ({ method, path }: Seen) => `${method} ${path}`;

function seenIn(address: string, init: RequestInit): Seen {
  const url = new URL(address, "http://x");
  return {
    method: init.method ?? "GET",
    path: url.pathname,
    query: url.searchParams,
    body: typeof init.body === "string" ? JSON.parse(init.body) : undefined,
    headers: (init.headers ?? {}) as Record<string, string>,
  };
}

function whole(given: Answer | unknown): Required<Answer> {
  const parts = (typeof given === "object" && given !== null ? given : {}) as Record<string, unknown>;
  return typeof parts.status === "number" && "body" in parts
    ? { status: parts.status, body: parts.body }
    : { status: 200, body: given };
}

/** problem is a refusal as the server words it. */
export function problem(status: number, code: string, fields: object[] = []): Answer {
  return { status, body: { code, status, detail: code, fields } };
}

/** signedIn lets somebody be signed in for a test. */
export function signedIn(role: "manager" | "advisor" | "field-officer" = "manager", id = "p1"): void {
  begin({
    access_token: `token of ${id}`,
    person: { id, name: "Marthe Ndive", language: "en", grants: [{ role, branch_id: "" }] },
  });
}
