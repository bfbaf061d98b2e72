interface Heard {
  url: string;
  /** What is heard, for those who do not see the player. */
  label: string;
}

/** Player plays a voice note. */
export function Player({ url, label }: Heard) {
  // biome-ignore lint/a11y/useMediaCaption: nobody has written down what a caretaker said a moment ago, and an empty caption would claim that there is nothing to read
  return <audio class="media-voice" controls src={url} aria-label={label} />;
}
