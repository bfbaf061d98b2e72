import { useEffect, useRef, useState } from "preact/hooks";
import { explain } from "../api/explain";
import { Button } from "../ui/button";
import type { Add } from "./attach";
import type { Medium } from "./medium";
import { Player } from "./player";
import { useUrl } from "./url";
import { mediaWords } from "./words";

const longest = 60; // seconds
// Speech stays clear at this rate: a minute is about 0.1 MB.
const bitsPerSecond = 16_000;
const types = ["audio/webm;codecs=opus", "audio/ogg;codecs=opus", "audio/mp4"];

/** recordable is the type in which this browser records, undefined where it cannot. */
export function recordable(): string | undefined {
  const can = "MediaRecorder" in globalThis && navigator.mediaDevices !== undefined;
  return can ? types.find((type) => MediaRecorder.isTypeSupported(type)) : undefined;
}

/** Recorder takes one voice note, which can be heard and thrown away before it is sent. */
export function Recorder({
  note,
  onNote,
  onDrop,
}: {
  note: Medium | undefined;
  onNote: Add;
  onDrop: (note: Medium) => void;
}) {
  const words = mediaWords();
  const { left, failed, press } = useRecorder(onNote);
  if (!recordable()) return null;
  if (note) return <Spoken note={note} onDrop={() => onDrop(note)} />;
  return (
    <>
      <button type="button" class="phone-row phone-button" onClick={press} aria-pressed={left > 0}>
        <Microphone />
        <span>
          {left > 0 ? words.stop(left) : words.record}
          {left === 0 && <span class="phone-note">{words.cost}</span>}
        </span>
      </button>
      {failed && <p role="alert">{failed}</p>}
    </>
  );
}

function Spoken({ note, onDrop }: { note: Medium; onDrop: () => void }) {
  const words = mediaWords();
  const url = useUrl(note.bytes, note.type);
  return (
    <div class="attach-spoken">
      {url && <Player url={url} label={words.play} />}
      <Button onClick={onDrop}>{words.removeVoice}</Button>
    </div>
  );
}

function useRecorder(onNote: Add) {
  const [left, setLeft] = useState(0);
  const [failed, setFailed] = useState("");
  const under = useRef<MediaRecorder>();
  const take = useRef(onNote);
  take.current = onNote;
  const stop = () => under.current?.state === "recording" && under.current.stop();
  useEffect(() => {
    if (left === 0) return;
    const timer = setTimeout(() => (left > 1 ? setLeft(left - 1) : stop()), 1000);
    return () => clearTimeout(timer);
  }, [left]);
  useEffect(() => () => void stop(), []);
  const press = async () => {
    if (under.current?.state === "recording") return void stop();
    setFailed("");
    try {
      under.current = await record((bytes, type) => {
        setLeft(0);
        take.current({ kind: "voice", type, bytes }).catch((error) => setFailed(explain(error)));
      });
      setLeft(longest);
    } catch {
      setFailed(mediaWords().noMicrophone);
    }
  };
  return { left, failed, press };
}

async function record(done: (bytes: Uint8Array<ArrayBuffer>, type: string) => void): Promise<MediaRecorder> {
  const stream = await navigator.mediaDevices.getUserMedia({ audio: true });
  const mimeType = recordable() ?? "";
  const recorder = new MediaRecorder(stream, { mimeType, audioBitsPerSecond: bitsPerSecond });
  const parts: Blob[] = [];
  recorder.ondataavailable = (event) => parts.push(event.data);
  recorder.onstop = async () => {
    for (const track of stream.getTracks()) track.stop(); // the light goes out
    const whole = await new Blob(parts).arrayBuffer();
    if (whole.byteLength > 0) done(new Uint8Array(whole), mimeType.split(";")[0] ?? mimeType);
  };
  recorder.start();
  return recorder;
}

function Microphone() {
  return (
    <svg class="picture" viewBox="0 0 48 48" aria-hidden="true">
      <rect x="18" y="5" width="12" height="24" rx="6" />
      <path d="M11 23a13 13 0 0 0 26 0M24 36v7M16 43h16" />
    </svg>
  );
}
