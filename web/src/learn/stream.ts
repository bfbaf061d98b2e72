// The draw of questions must be the same here and on the server, so both use
// one generator of 32-bit numbers: xoshiro128** 1.1 (Blackman and Vigna, ACM
// TOMS 47:4, 2021). domain/training/stream.go has the same in Go, and
// domain/training/testdata/draws.json holds both to each other.

/** A Stream gives numbers that follow from its seed alone. */
export interface Stream {
  /** below is a number from 0 to n-1, each as likely as the others. */
  below(n: number): number;
  /** shuffle puts items into an order drawn from the stream, from the last place down (Durstenfeld 1964). */
  shuffle<T>(items: T[]): T[];
}

const golden = 0x9e3779b9;

/** mix is the finaliser of MurmurHash3 (Appleby, fmix32). */
export function mix(h: number): number {
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

const turned = (x: number, by: number) => (x << by) | (x >>> (32 - by));

/** numbers is the generator on four words of state. */
export function numbers([a, b, c, d]: [number, number, number, number]): () => number {
  return () => {
    const out = Math.imul(turned(Math.imul(b, 5), 7), 9) >>> 0;
    const t = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= t;
    d = turned(d, 11);
    return out;
  };
}

const begun = (seed: number) => {
  const word = (i: number) => mix((seed + Math.imul(i, golden)) | 0);
  return numbers([word(1), word(2), word(3), word(4)]);
};

/** streamOf begins a stream. */
export function streamOf(seed: number): Stream {
  const next = begun(seed);
  const below = (n: number) => {
    const rest = 2 ** 32 % n; // what lies in the incomplete last round is drawn again
    for (;;) {
      const x = next();
      if (x >= rest) return x % n;
    }
  };
  return {
    below,
    shuffle: (items) => {
      for (let i = items.length - 1; i > 0; i--) {
        const j = below(i + 1);
        [items[i], items[j]] = [items[j] as never, items[i] as never];
      }
      return items;
    },
  };
}

/** nextSeed is the seed of the draw after the one with this seed. */
export function nextSeed(seed: number): number {
  return begun(seed)();
}
