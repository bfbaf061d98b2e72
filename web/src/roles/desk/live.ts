import { useEffect, useRef } from "preact/hooks";
import { problemOf } from "../../api/problem";
import { withSession } from "../../api/session";

/** News is what another desk has just done to a ticket; an empty id says that anything may have changed. */
export interface News {
  ticket: string;
  kind: "changed" | "here";
}

type Listener = (news: News) => void;

const listeners = new Set<Listener>();
let stop: AbortController | null = null;
let last = "";

// After a stream has ended the next one begins a little later, and later still
// while none can be had: a server that has just started is not run over.
const soon = 500;
const late = 30_000;

/** useLive calls back for every change that another desk makes while the page stands; all pages share one stream. */
export function useLive(told: Listener): void {
  const latest = useRef(told);
  latest.current = told;
  useEffect(() => {
    const listener: Listener = (news) => latest.current(news);
    listeners.add(listener);
    begin();
    return () => {
      listeners.delete(listener);
      if (listeners.size === 0) end();
    };
  }, []);
}

function begin(): void {
  if (stop) return;
  stop = new AbortController();
  void run(stop.signal);
}

function end(): void {
  stop?.abort();
  stop = null;
}

async function run(signal: AbortSignal): Promise<void> {
  let wait = soon;
  while (!signal.aborted) {
    const from = Date.now();
    await stream(signal).catch(() => undefined);
    wait = Date.now() - from > late ? soon : Math.min(late, wait * 2);
    await new Promise((done) => setTimeout(done, wait));
  }
}

async function stream(signal: AbortSignal): Promise<void> {
  const { body } = await withSession(async (auth) => {
    const headers = { Accept: "text/event-stream", ...auth, ...(last && { "Last-Event-ID": last }) };
    const answer = await fetch("/api/news", { headers, signal, credentials: "same-origin" });
    if (!answer.ok || !answer.body) throw await problemOf(answer);
    return { status: answer.status, body: answer.body, etag: null };
  });
  const reader = body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = "";
  for (let piece = await reader.read(); !piece.done; piece = await reader.read()) {
    const blocks = (rest + piece.value).split("\n\n");
    rest = blocks.pop() ?? "";
    for (const block of blocks) hear(block);
  }
}

/** hear takes one event of a stream (server-sent events of the HTML standard). */
export function hear(block: string): void {
  const fields: Record<string, string> = {};
  for (const line of block.split("\n")) {
    const at = line.indexOf(":");
    if (at > 0) fields[line.slice(0, at)] = line.slice(at + 1).trimStart();
  }
  if (fields.id) last = fields.id;
  if (fields.event === "reset") tell({ ticket: "", kind: "changed" });
  if (fields.event !== "ticket") return;
  const news = JSON.parse(fields.data ?? "{}") as { ticket_id: string; kind: News["kind"] };
  tell({ ticket: news.ticket_id, kind: news.kind });
}

function tell(news: News): void {
  for (const listener of listeners) listener(news);
}
