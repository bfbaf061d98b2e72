import { useEffect, useState } from "preact/hooks";
import type { components } from "../api/api.gen";
import { Problem } from "../api/problem";
import { useRead } from "../api/read";
import { withSession } from "../api/session";
import { Dialog } from "../ui/dialog";
import { Player } from "./player";
import { useUrl } from "./url";
import { mediaWords } from "./words";
import "./media.css";

/** Known is a photo or a voice note as the server knows it. */
export type Known = components["schemas"]["Medium"];

/**
 * Media shows what came with an entry: small photos that open, voice notes to
 * hear, and how many are still to come of those that the entry names.
 */
export function Media({ known, named }: { known: readonly Known[]; named: readonly string[] }) {
  const [ready, setReady] = useState(false);
  useEffect(() => {
    mediaWords.load().then(
      () => setReady(true),
      () => undefined,
    );
  }, []);
  const here = known.filter((m) => m.state === "kept");
  const photos = here.filter((m) => m.kind === "photo");
  const over = known.filter((m) => m.state !== "coming").map((m) => m.id);
  const coming = named.filter((id) => !over.includes(id)).length;
  if (!ready || (here.length === 0 && coming === 0)) return null;
  return (
    <>
      {here.length > 0 && (
        <ul class="media-line">
          {photos.map((m, i) => (
            <li key={m.id}>
              <Photo photo={m} name={mediaWords().open(i + 1, photos.length)} />
            </li>
          ))}
          {here
            .filter((m) => m.kind === "voice")
            .map((m) => (
              <li key={m.id}>
                <Voice note={m} />
              </li>
            ))}
        </ul>
      )}
      {coming > 0 && <span class="minor">{mediaWords().coming(coming)}</span>}
    </>
  );
}

/** namedIn are the ids that an entry's data name. */
export function namedIn(data: unknown): readonly string[] {
  const named = (data as { media?: unknown } | null | undefined)?.media;
  return Array.isArray(named) ? named : [];
}

function Photo({ photo, name }: { photo: Known; name: string }) {
  const words = mediaWords();
  const [open, setOpen] = useState(false);
  const small = useFile(`/api/media/${photo.id}/thumbnail`, "image/jpeg");
  return (
    <>
      <button type="button" class="media-open" aria-label={name} onClick={() => setOpen(true)}>
        {small.url ? <img src={small.url} alt="" /> : small.failed ? words.broken : words.photo}
      </button>
      <Dialog open={open} title={words.photo} onClose={() => setOpen(false)}>
        <Whole photo={photo} />
      </Dialog>
    </>
  );
}

function Whole({ photo }: { photo: Known }) {
  const words = mediaWords();
  const whole = useFile(`/api/media/${photo.id}`, "image/jpeg");
  return (
    <>
      {whole.url && <img class="media-whole" src={whole.url} alt={words.photo} />}
      {whole.failed && <p role="alert">{words.broken}</p>}
      {photo.taken && <p>{words.takenAt(photo.taken.lat, photo.taken.lng)}</p>}
    </>
  );
}

function Voice({ note }: { note: Known }) {
  const words = mediaWords();
  const { url, failed } = useFile(`/api/media/${note.id}`, note.type ?? "");
  if (failed) return <span>{words.broken}</span>;
  return url ? <Player url={url} label={words.voice} /> : null;
}

// The address alone shows nothing: a picture is asked for as the person signed in.
function useFile(path: string, type: string): { url: string | undefined; failed: boolean } {
  const read = useRead(path, (signal) => bytesOf(path, signal));
  return { url: useUrl(read.value, type), failed: read.error !== undefined && !read.value };
}

async function bytesOf(path: string, signal: AbortSignal): Promise<Uint8Array<ArrayBuffer>> {
  const { body } = await withSession(async (headers) => {
    const answer = await fetch(path, { headers, signal, credentials: "same-origin" });
    if (!answer.ok) throw new Problem(answer.status, `status-${answer.status}`, answer.statusText);
    return { status: answer.status, body: new Uint8Array(await answer.arrayBuffer()), etag: null };
  });
  return body;
}
