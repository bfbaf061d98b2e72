import { useEffect, useState } from "preact/hooks";
import { explain } from "../api/explain";
import { Problem } from "../api/problem";
import { Button } from "../ui/button";
import { Choice } from "../ui/choice";
import { placeOf } from "./exif";
import type { Medium, Place } from "./medium";
import { type Allowed, allow, allowed } from "./network";
import { scaled } from "./scale";
import { draft, draftsOf, remove, write } from "./store";
import { useUrl } from "./url";
import { Recorder } from "./voice";
import { mediaWords } from "./words";
import "./media.css";

const mostOfOne = 4;

/** What Attach takes: the form that it stands in, and what the form wants to know. */
export interface Attaching {
  farm: string;
  /** Names the form: what was taken in it is there again after a crash. */
  slot: string;
  /** The form asks for more than a word. */
  asks?: boolean;
  /** A voice note may stand beside the photos. */
  voice?: boolean;
  onMedia: (ids: string[]) => void;
}

/** Attach takes photos and voice notes for an entry. They are on the disk before they are shown. */
export function Attach({ farm, slot, asks, voice, onMedia }: Attaching) {
  const [drafts, setDrafts] = useState<readonly Medium[]>([]);
  // Known to this page alone: on the disk is only what the person agreed to say.
  const [places, setPlaces] = useState<Record<string, Place>>({});
  // The question stays while the form stands, so that a slip of the thumb can be mended.
  const [unasked] = useState(allowed.peek() === null);
  const change = (next: readonly Medium[]) => {
    setDrafts(next);
    onMedia(next.map((m) => m.id));
  };
  useEffect(() => {
    draftsOf(farm, slot)
      .then((found) => found.length > 0 && change(found))
      .catch(() => undefined);
  }, [farm, slot]);
  const add: Add = async ({ place, ...taken }) => {
    const medium = await draft({ farm, slot, ...taken });
    if (place) setPlaces((old) => ({ ...old, [medium.id]: place }));
    change([...drafts, medium]);
  };
  const agree = (medium: Medium, taken: Place | undefined) => {
    const { taken: _, ...rest } = medium;
    const next = taken ? { ...rest, taken } : rest;
    change(drafts.map((m) => (m.id === next.id ? next : m)));
    void write(next).catch(() => undefined);
  };
  const drop = (gone: Medium) => {
    change(drafts.filter((m) => m.id !== gone.id));
    void remove(gone.id).catch(() => undefined);
  };
  const photos = drafts.filter((m) => m.kind === "photo");
  const spoken = drafts.find((m) => m.kind === "voice");
  return (
    <section class="attach" aria-label={mediaWords().title}>
      {photos.map((m) => (
        <Taken
          key={m.id}
          photo={m}
          place={places[m.id]}
          onAgree={(place) => agree(m, place)}
          onDrop={() => drop(m)}
        />
      ))}
      {photos.length < mostOfOne && <Camera asks={asks} more={photos.length > 0} onPhoto={add} />}
      {voice && <Recorder note={spoken} onNote={add} onDrop={drop} />}
      {drafts.length > 0 && unasked && <Network />}
    </section>
  );
}

/** Add takes what was just taken, with the place that a photo knows. */
export type Add = (
  taken: Pick<Medium, "kind" | "type" | "bytes"> & { place?: Place | undefined },
) => Promise<void>;

// A segment of a JPEG holds 64 kB at most, and Exif is among the first.
const exifWithin = 256 * 1024;
const brokenKey = "tendfold.no-camera";

// A file field opens the camera and needs no permission of its own.
function Camera({ asks, more, onPhoto }: { asks: boolean | undefined; more: boolean; onPhoto: Add }) {
  const words = mediaWords();
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState("");
  const [broken, setBroken] = useState(localStorage.getItem(brokenKey) !== null);
  const mark = (now: boolean) => {
    setBroken(now);
    if (now) localStorage.setItem(brokenKey, "1");
    else localStorage.removeItem(brokenKey);
  };
  const take = async (field: HTMLInputElement) => {
    const file = field.files?.[0];
    field.value = ""; // the same file may be chosen again
    if (!file || busy) return;
    setBusy(true);
    setFailed("");
    try {
      const place = placeOf(new Uint8Array(await file.slice(0, exifWithin).arrayBuffer()));
      await onPhoto({ kind: "photo", type: "image/jpeg", bytes: await scaled(file), place });
    } catch (error) {
      setFailed(error instanceof Problem ? explain(error) : words.unreadable);
    } finally {
      setBusy(false);
    }
  };
  if (broken) {
    return (
      <p class="attach-broken">
        {asks && words.looked}{" "}
        <Button kind="quiet" onClick={() => mark(false)}>
          {words.tryCamera}
        </Button>
      </p>
    );
  }
  return (
    <>
      <label class="phone-row phone-button attach-take">
        <CameraPicture />
        <span>
          {more ? words.another : words.take}
          <span class="phone-note">{busy ? words.wait : words.cost}</span>
        </span>
        <input
          type="file"
          accept="image/*"
          capture="environment"
          onChange={(e) => void take(e.currentTarget)}
        />
      </label>
      {failed && <p role="alert">{failed}</p>}
      {asks && !more && (
        <p class="attach-broken">
          {words.shows}{" "}
          <Button kind="quiet" onClick={() => mark(true)}>
            {words.noCamera}
          </Button>
        </p>
      )}
    </>
  );
}

function Taken({
  photo,
  place,
  onAgree,
  onDrop,
}: {
  photo: Medium;
  place: Place | undefined;
  onAgree: (place: Place | undefined) => void;
  onDrop: () => void;
}) {
  const words = mediaWords();
  const url = useUrl(photo.bytes, photo.type);
  return (
    <figure class="attach-taken">
      {url && <img src={url} alt={words.photo} />}
      <figcaption>
        {place && (
          <label class="attach-place">
            <input
              type="checkbox"
              checked={photo.taken !== undefined}
              onChange={(e) => onAgree(e.currentTarget.checked ? place : undefined)}
            />
            <span>
              {words.place}
              <span class="phone-note">{words.placeHint}</span>
            </span>
          </label>
        )}
        <Button onClick={onDrop}>{words.remove}</Button>
      </figcaption>
    </figure>
  );
}

/** Network asks once over which network photos and voice notes may go; the answer can be changed. */
export function Network() {
  const words = mediaWords();
  const options: { value: NonNullable<Allowed>; label: string }[] = [
    { value: "any", label: words.any },
    { value: "wifi", label: words.wifi },
  ];
  return (
    <Choice
      label={allowed.value === null ? words.ask : words.network}
      options={options}
      value={allowed.value ?? ""}
      onValue={allow}
    />
  );
}

function CameraPicture() {
  return (
    <svg class="picture" viewBox="0 0 48 48" aria-hidden="true">
      <path d="M6 15h9l4-6h10l4 6h9v24H6z" />
      <circle cx="24" cy="26" r="8" />
    </svg>
  );
}
