// A photo is made small on the phone: fewer bytes to pay for, and nothing in
// it but the picture. What the camera wrote beside it does not come along.

/** The most bytes of a photo that is sent. */
export const mostBytes = 150_000;

/** A Try is one size and quality to pack a picture in. */
export interface Try {
  side: number;
  quality: number;
}

/** tries go from what shows most to what always fits. */
export const tries: readonly Try[] = [1280, 1024, 800, 640, 480].flatMap((side) =>
  [0.8, 0.65, 0.5].map((quality) => ({ side, quality })),
);

/** within is a width and height no longer than `side`; a small picture stays as it is. */
export function within(width: number, height: number, side: number): { width: number; height: number } {
  const scale = Math.min(1, side / Math.max(width, height));
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) };
}

/** smallEnough packs a picture until it fits; undefined where even the last try is too large. */
export async function smallEnough<P extends { size: number }>(
  pack: (attempt: Try) => Promise<P>,
  most: number = mostBytes,
): Promise<P | undefined> {
  for (const attempt of tries) {
    const packed = await pack(attempt);
    if (packed.size <= most) return packed;
  }
  return undefined;
}

/** scaled is a file as a small JPEG, the right way up; it fails where this phone cannot open the file. */
export async function scaled(file: Blob): Promise<Uint8Array<ArrayBuffer>> {
  const picture = await createImageBitmap(file);
  try {
    const packed = await smallEnough(({ side, quality }) => draw(picture, side, quality));
    if (!packed) throw new Error("the photo does not get small enough");
    return new Uint8Array(await packed.arrayBuffer());
  } finally {
    picture.close();
  }
}

function draw(picture: ImageBitmap, side: number, quality: number): Promise<Blob> {
  const { width, height } = within(picture.width, picture.height, side);
  const canvas = Object.assign(document.createElement("canvas"), { width, height });
  const pen = canvas.getContext("2d");
  if (!pen) return Promise.reject(new Error("this browser cannot draw"));
  pen.fillStyle = "#fff"; // a see-through picture becomes black otherwise
  pen.fillRect(0, 0, width, height);
  pen.drawImage(picture, 0, 0, width, height);
  return new Promise((done, fail) =>
    canvas.toBlob((blob) => (blob ? done(blob) : fail(new Error("no picture came"))), "image/jpeg", quality),
  );
}
