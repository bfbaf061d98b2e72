// A door before the house through which every request goes, so that a test can
// bring a release, a slow line or an answer of its own, the service worker's
// requests included, which the browser's own interception does not see.
import { createServer, request } from "node:http";

/**
 * front passes everything on to a house. `change` may answer a request itself
 * with `{ status, type, body }`, or turn an answer of the house into another by
 * `{ turn: (text) => text }`; what it leaves alone goes as it is. `log` has what
 * went over the line for each request, headers included, in bytes.
 */
export async function front(base, change = () => undefined) {
  const { hostname, port } = new URL(base);
  const log = [];
  const server = createServer((asked, answer) => {
    const own = change(asked);
    note(log, asked, answer);
    if (own?.status) {
      asked.resume();
      return void answer.writeHead(own.status, { "Content-Type": own.type ?? "text/plain" }).end(own.body);
    }
    const headers = own?.turn ? { ...asked.headers, "accept-encoding": "identity" } : asked.headers;
    const onward = request({ hostname, port, path: asked.url, method: asked.method, headers }, (from) => {
      if (own?.turn) return void turned(from, answer, own.turn);
      answer.writeHead(from.statusCode, from.rawHeaders);
      from.pipe(answer);
    });
    onward.on("error", () => answer.destroy());
    asked.on("error", () => onward.destroy());
    asked.pipe(onward);
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  return {
    base: `http://127.0.0.1:${server.address().port}`,
    log,
    close: () => {
      server.closeAllConnections();
      server.close();
    },
  };
}

// A browser sends the next request of a connection once it has the answer to
// the last, so what a connection has carried since then belongs to this one.
const carried = new WeakMap();

function note(log, { socket, method, url }, answer) {
  answer.once("finish", () => {
    const { up, down } = carried.get(socket) ?? { up: 0, down: 0 };
    const now = { up: socket.bytesRead, down: socket.bytesWritten };
    carried.set(socket, now);
    log.push({ method, path: url, up: now.up - up, down: now.down - down });
  });
}

async function turned(from, answer, turn) {
  let text = "";
  for await (const piece of from.setEncoding("utf8")) text += piece;
  const { "content-length": _, etag: __, ...headers } = from.headers;
  answer.writeHead(from.statusCode, headers).end(turn(text));
}
