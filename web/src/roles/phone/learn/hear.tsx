import { useEffect, useRef, useState } from "preact/hooks";
import { learnWords } from "../../../learn/words";
import { Listen } from "../parts";

/** Hear reads a card aloud: by its recording where that is on the phone, else by the phone's own voice. */
export function Hear({ text, recording }: { text: string; recording: string | undefined }) {
  const words = learnWords();
  const [playing, setPlaying] = useState(false);
  const sound = useRef<HTMLAudioElement | null>(null);
  const stop = () => {
    sound.current?.pause();
    sound.current = null;
    setPlaying(false);
  };
  useEffect(() => stop, [recording]);
  if (!recording) return <Listen text={text} />;
  const press = () => {
    if (playing) return stop();
    const url = URL.createObjectURL(new Blob([bytesOf(recording)], { type: "audio/ogg" }));
    const audio = new Audio(url);
    sound.current = audio;
    audio.onended = () => {
      URL.revokeObjectURL(url);
      setPlaying(false);
    };
    setPlaying(true);
    audio.play().catch(stop);
  };
  return (
    <button type="button" class="button button-plain" onClick={press}>
      {playing ? words.stop : words.hear}
    </button>
  );
}

function bytesOf(base64: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
}
