// Which of several entries about one thing stands: the rules of the server
// (domain/merge), held to the same cases, so that the phone shows before the
// sending what stands after it.

/** A Word is what an entry tells of when it was said. */
export interface Word {
  id: string;
  /** The day that it states. */
  on: string;
  /** When it was made, from madeOf. */
  made: string;
}

/** What an entry carries of the time of its making. */
export interface Stamped {
  id: string;
  hlc?: string | undefined;
  device_at?: string | undefined;
}

/**
 * madeOf is when an entry was made, as a text that sorts: its stamp, else the
 * milliseconds that its id was made from (UUIDv7), else the device's clock.
 */
export function madeOf({ id, hlc, device_at }: Stamped): string {
  if (hlc) return hlc;
  const [, high, low] = /^([0-9a-f]{8})-([0-9a-f]{4})-7.{21}$/i.exec(id) ?? [];
  if (high && low) return `${high.toLowerCase()}${low.toLowerCase()}-0000-${id}`;
  const ms = Math.max(Date.parse(device_at ?? "") || 0, 0);
  return `${ms.toString(16).padStart(12, "0")}-0000-${id}`;
}

/** beats says whether a mark of an item takes another's place: a later day, or the same and made later. */
export function beats(word: Word, other: Word): boolean {
  return word.on === other.on ? outdates(word, other) : word.on > other.on;
}

/** outdates says whether a word on a milestone takes another's place: it was made later. */
export function outdates(word: Word, other: Word): boolean {
  return word.made === other.made ? word.id > other.id : word.made > other.made;
}
