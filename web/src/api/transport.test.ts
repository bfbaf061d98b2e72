import { Blob as NodeBlob } from "node:buffer";
import { CompressionStream as NodeCompression } from "node:stream/web";
import { gunzipSync } from "node:zlib";
import { afterEach, expect, it, vi } from "vitest";
import { send } from "./transport";

const fetched = vi.fn(async (_path: string, _init: RequestInit) => new Response("{}"));

afterEach(() => {
  vi.unstubAllGlobals();
  fetched.mockClear();
});

const body = { entries: Array.from({ length: 15 }, (_, n) => ({ id: n, kind: "day" })) };
const sent = () => fetched.mock.calls[0]?.[1] as RequestInit;

it("compresses a body that may go compressed", async () => {
  vi.stubGlobal("fetch", fetched);
  vi.stubGlobal("CompressionStream", NodeCompression);
  vi.stubGlobal("Blob", NodeBlob); // jsdom's cannot be read
  await send("POST", "/api/sync", { body, packed: true });
  const raw = Buffer.from(await (sent().body as Blob).arrayBuffer());
  expect(JSON.parse(gunzipSync(raw).toString())).toEqual(body);
  expect(raw.length).toBeLessThan(JSON.stringify(body).length);
  expect(sent().headers).toMatchObject({
    "Content-Encoding": "gzip",
    "Content-Type": "application/json",
  });
});

it.each([
  ["a device cannot compress", { body, packed: true }],
  ["it is not asked to", { body }],
])("sends text where %s", async (_, what) => {
  vi.stubGlobal("fetch", fetched);
  await send("POST", "/api/sync", what);
  expect(sent().body).toBe(JSON.stringify(body));
  expect(sent().headers).not.toHaveProperty("Content-Encoding");
});
