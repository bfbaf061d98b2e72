import { uuidv7 } from "../offline/uuid";
import type { paths } from "./api.gen";
import { withSession } from "./session";
import { type Answer, send } from "./transport";

type Method = "get" | "post" | "put" | "patch" | "delete";
type PathsWith<P, M extends Method> = {
  [K in keyof P]: P[K] extends Record<M, object> ? K : never;
}[keyof P] &
  string;
type Operation<P, K extends keyof P, M extends Method> = P[K] extends Record<M, infer Op> ? Op : never;
type Part<Op, Where extends string> = Op extends { parameters: { [W in Where]?: infer V } } ? V : never;
type Json<T> = T extends { content: { "application/json": infer B } } ? B : undefined;
type BodyOf<Op> = Op extends { requestBody?: infer B } ? Json<NonNullable<B>> : never;
type Given<Op> = Op extends { responses: infer R } ? Json<R[keyof R & (200 | 201 | 202 | 204)]> : never;

/** What a call may carry. `version` becomes If-Match; `key` replaces the Idempotency-Key made here. */
export type Call<Op> = {
  signal?: AbortSignal;
  version?: number | string;
  key?: string;
} & ([Part<Op, "path">] extends [never] ? { path?: never } : { path: NonNullable<Part<Op, "path">> }) & {
    query?: Part<Op, "query">;
  } & ([BodyOf<Op>] extends [never | undefined] ? { body?: never } : { body: BodyOf<Op> });

type Needed<Op> = Call<Op> extends { path?: never; body?: never } ? [call?: Call<Op>] : [call: Call<Op>];
type Verb<P, M extends Method> = <K extends PathsWith<P, M>>(
  path: K,
  ...call: Needed<Operation<P, K, M>>
) => Promise<Answer<Given<Operation<P, K, M>>>>;

/** A Client has one function a method, typed by the paths of the API: `api.get("/api/farms/{id}", { path: { id } })`. */
export type Client<P> = { [M in Method]: Verb<P, M> };

/** clientFor makes the Client of an API; `api` below is ours. */
export function clientFor<P>(): Client<P> {
  const verb =
    (method: Method) =>
    (path: string, call: Call<never> = {} as Call<never>) => {
      const { signal, version, key, query, body } = call as Record<string, never>;
      const headers: Record<string, string> = {};
      if (version !== undefined) headers["If-Match"] = quoted(version);
      if (method === "post") headers["Idempotency-Key"] = key ?? uuidv7();
      const filled = fill(path, (call as { path?: Record<string, unknown> }).path);
      return withSession((auth) =>
        send(method.toUpperCase(), filled, { query, body, signal, headers: { ...headers, ...auth } }),
      );
    };
  return {
    get: verb("get"),
    post: verb("post"),
    put: verb("put"),
    patch: verb("patch"),
    delete: verb("delete"),
  } as unknown as Client<P>;
}

function quoted(version: number | string): string {
  const text = String(version);
  return text.startsWith('"') || text.startsWith("W/") ? text : `"${text}"`;
}

function fill(path: string, values: Record<string, unknown> = {}): string {
  return path.replace(/\{(\w+)\}/g, (_, name: string) => encodeURIComponent(String(values[name])));
}

/** api calls the server as the person signed in; a failure is thrown as a Problem. */
export const api = clientFor<paths>();
