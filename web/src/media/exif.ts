import type { Place } from "./medium";

// Where a photo was taken, as the camera wrote it: the GPS directory of Exif
// (Exif 2.32, 4.6.6) in a JPEG's APP1 segment. Read only to ask the person;
// it is sent only if they agree.

const gps = 0x8825;

/** placeOf reads the place out of a JPEG, undefined where it tells none that can be. */
export function placeOf(bytes: Uint8Array<ArrayBuffer>): Place | undefined {
  try {
    const tiff = exifOf(new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength));
    return tiff && placeIn(tiff);
  } catch {
    return undefined; // an address in it leads out of the file
  }
}

function exifOf(jpeg: DataView): DataView | undefined {
  if (jpeg.getUint16(0) !== 0xffd8) return undefined;
  for (let at = 2; jpeg.getUint8(at) === 0xff && jpeg.getUint8(at + 1) !== 0xda; ) {
    const size = jpeg.getUint16(at + 2);
    const isExif = jpeg.getUint8(at + 1) === 0xe1 && jpeg.getUint32(at + 4) === 0x45786966; // "Exif"
    if (isExif) return new DataView(jpeg.buffer, jpeg.byteOffset + at + 10, size - 8);
    at += 2 + size;
  }
  return undefined;
}

function placeIn(tiff: DataView): Place | undefined {
  const little = tiff.getUint16(0) === 0x4949;
  const short = (at: number) => tiff.getUint16(at, little);
  const long = (at: number) => tiff.getUint32(at, little);
  // Where the value of a tag stands in a directory.
  const find = (directory: number, tag: number): number | undefined => {
    for (let i = 0; i < short(directory); i++) {
      const at = directory + 2 + 12 * i;
      if (short(at) === tag) return at + 8;
    }
    return undefined;
  };
  const pointer = find(long(4), gps);
  if (pointer === undefined) return undefined;
  const inside = long(pointer);
  const degrees = (reference: number, value: number, negative: number): number => {
    const [ref, at] = [find(inside, reference), find(inside, value)];
    if (ref === undefined || at === undefined) return Number.NaN;
    const from = long(at);
    const part = (i: number) => long(from + 8 * i) / long(from + 8 * i + 4);
    const sum = part(0) + part(1) / 60 + part(2) / 3600;
    return tiff.getUint8(ref) === negative ? -sum : sum;
  };
  const lat = degrees(1, 2, 0x53); // "S"
  const lng = degrees(3, 4, 0x57); // "W"
  return Math.abs(lat) <= 90 && Math.abs(lng) <= 180 ? { lat, lng } : undefined;
}
