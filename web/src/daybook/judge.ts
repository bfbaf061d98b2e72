/** What a value may be; the server judges by the same rules (domain/daybook). */
export interface Bounds {
  least?: number | undefined;
  most?: number | undefined;
  ask_below?: number | undefined;
  ask_above?: number | undefined;
  most_of_stock?: number | undefined;
  ask_of_stock?: number | undefined;
  whole?: boolean | undefined;
}

/** How many animals a value is held against; without a number nothing is. */
export interface Stock {
  put_in?: number | undefined;
  living?: number | undefined;
}

export type Verdict = "fine" | "unlikely" | "impossible";
export type Why = "not-whole" | "too-low" | "too-high" | "over-stock" | "of-stock";

/** A verdict with its reason, and the bound that was passed. */
export interface Ruling {
  verdict: Verdict;
  why?: Why;
  limit?: number;
}

// Of a dozen animals one death is a large part and no slip of the finger.
const smallest = 3;

/** judge says whether a value may be: impossible ones are refused, unlikely ones asked back. */
export function judge(b: Bounds, value: number, stock: Stock = {}): Ruling {
  const { put_in: putIn = 0, living = 0 } = stock;
  const over = (share: number | undefined, of: number) => putIn > 0 && !!share && value > share * of;
  if (Number.isNaN(value)) return { verdict: "impossible", why: "too-high" };
  if (b.whole && !Number.isInteger(value)) return { verdict: "impossible", why: "not-whole" };
  if (b.least !== undefined && value < b.least) return no("impossible", "too-low", b.least);
  if (b.most !== undefined && value > b.most) return no("impossible", "too-high", b.most);
  if (over(b.most_of_stock, putIn)) return no("impossible", "over-stock", (b.most_of_stock ?? 0) * putIn);
  if (b.ask_below !== undefined && value < b.ask_below) return no("unlikely", "too-low", b.ask_below);
  if (b.ask_above !== undefined && value > b.ask_above) return no("unlikely", "too-high", b.ask_above);
  if (value >= smallest && over(b.ask_of_stock, living))
    return no("unlikely", "of-stock", (b.ask_of_stock ?? 0) * living);
  return { verdict: "fine" };
}

function no(verdict: Verdict, why: Why, limit: number): Ruling {
  return { verdict, why, limit };
}
