/** What single weights say, in their measure; sd is of single animals (n - 1), 0 for one. */
export interface Sample {
  n: number;
  mean: number;
  sd: number;
}

/** sampleOf is the mean and the sample standard deviation, as the server has them. */
export function sampleOf(weights: readonly number[]): Sample {
  const n = weights.length;
  const mean = weights.reduce((sum, w) => sum + w / n, 0);
  const squares = weights.reduce((sum, w) => sum + (w - mean) ** 2, 0);
  return { n, mean, sd: n < 2 ? 0 : Math.sqrt(squares / (n - 1)) };
}
