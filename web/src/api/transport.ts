import { noNetwork, problemOf } from "./problem";

/** A Query is what follows the question mark; undefined values are left out, lists are repeated. */
export type Query = Record<string, unknown>;

/** What goes along with a request. */
export interface Sent {
  query?: Query | undefined;
  body?: unknown;
  headers?: Record<string, string> | undefined;
  signal?: AbortSignal | undefined;
  /** The body may go compressed, where the device can and the server takes it. */
  packed?: boolean | undefined;
}

/** An Answer is the body as JSON and the version that its ETag names. */
export interface Answer<Body = unknown> {
  status: number;
  body: Body;
  etag: string | null;
}

/** send makes one request and gives its answer; anything but a success is thrown as a Problem. */
export async function send<Body = unknown>(
  method: string,
  path: string,
  sent: Sent = {},
): Promise<Answer<Body>> {
  const body = await bodyOf(sent);
  const answer = await fetch(path + queryOf(sent.query), {
    method,
    credentials: "same-origin",
    headers: { ...headersOf(sent), ...(sent.packed && isFile(body) ? { "Content-Encoding": "gzip" } : {}) },
    body,
    signal: sent.signal ?? null,
  }).catch((cause: unknown) => {
    if (cause instanceof DOMException && cause.name === "AbortError") throw cause;
    throw noNetwork();
  });
  if (!answer.ok) throw await problemOf(answer);
  const text = await answer.text().catch(() => {
    throw noNetwork();
  });
  const told = (text === "" ? undefined : JSON.parse(text)) as Body;
  return { status: answer.status, body: told, etag: answer.headers.get("ETag") };
}

function headersOf({ body, headers }: Sent): Record<string, string> {
  const type = body === undefined || isFile(body) ? {} : { "Content-Type": "application/json" };
  return { Accept: "application/json", ...type, ...headers };
}

// Files and forms go as they are: the browser names their type and boundary.
function isFile(body: unknown): body is Blob | FormData {
  return body instanceof Blob || body instanceof FormData;
}

async function bodyOf({ body, packed }: Sent): Promise<BodyInit | null> {
  if (body === undefined) return null;
  if (isFile(body)) return body;
  const text = JSON.stringify(body);
  return packed ? zipped(text).catch(() => text) : text;
}

// Data is prepaid. A device that cannot compress fails here, and the text goes as it is.
async function zipped(text: string): Promise<Blob> {
  return new Response(new Blob([text]).stream().pipeThrough(new CompressionStream("gzip"))).blob();
}

function queryOf(query: Query = {}): string {
  const params = new URLSearchParams();
  for (const [name, value] of Object.entries(query)) {
    for (const one of Array.isArray(value) ? value : [value]) {
      if (one !== undefined && one !== null && one !== "") params.append(name, String(one));
    }
  }
  const text = params.toString();
  return text && `?${text}`;
}
