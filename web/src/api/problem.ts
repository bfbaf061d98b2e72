/** One wrong value, by its dotted path, as the server names it. */
export interface Field {
  path: string;
  code: string;
  text: string;
}

/**
 * Problem is every failure of a request: an RFC 9457 answer of the server, or
 * no answer at all (status 0, code "no-network").
 */
export class Problem extends Error {
  readonly status: number;
  readonly code: string;
  readonly fields: readonly Field[];
  /** Seconds to wait before trying again, where the server says so. */
  readonly retryAfter: number | undefined;

  constructor(
    status: number,
    code: string,
    text: string,
    fields: readonly Field[] = [],
    retryAfter?: number,
  ) {
    super(text);
    this.name = "Problem";
    this.status = status;
    this.code = code;
    this.fields = fields;
    this.retryAfter = retryAfter;
  }

  /** passing says whether the same request may succeed later without a change by the person. */
  get passing(): boolean {
    return this.status === 0 || this.status === 408 || this.status === 429 || this.status >= 500;
  }
}

/** noNetwork is the problem of a request that got no answer. */
export function noNetwork(): Problem {
  return new Problem(0, "no-network", "No answer came back. Check the network and try again.");
}

/** problemOf reads a failed answer; one that is not ours (a proxy's page, say) keeps its status alone. */
export async function problemOf(answer: Response): Promise<Problem> {
  const body = await answer.json().catch(() => null);
  const told = body !== null && typeof body === "object" ? (body as Record<string, unknown>) : {};
  const code = typeof told.code === "string" ? told.code : `status-${answer.status}`;
  const text = typeof told.detail === "string" ? told.detail : answer.statusText || code;
  const fields = Array.isArray(told.fields) ? (told.fields as Field[]) : [];
  return new Problem(answer.status, code, text, fields, secondsOf(answer.headers.get("Retry-After")));
}

function secondsOf(header: string | null): number | undefined {
  const seconds = Number.parseInt(header ?? "", 10);
  return Number.isNaN(seconds) ? undefined : seconds;
}
