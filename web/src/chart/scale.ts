/** Scale places values between two ends on a line of pixels. */
export interface Scale {
  at: (value: number) => number;
  ticks: number[];
}

const steps = [1, 2, 2.5, 5, 10];

/** niceStep is the round step nearest above `rough`: 1, 2, 2.5 or 5 times a power of ten. */
export function niceStep(rough: number): number {
  if (!(rough > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = steps.find((s) => s * power >= rough * (1 - 1e-9)) ?? 10;
  return step * power;
}

/**
 * scaleOf puts 0 and the largest value on round ticks, about `count` of them,
 * from the pixel of 0 to that of the top.
 */
export function scaleOf(largest: number, count: number, zero: number, top: number): Scale {
  const step = niceStep(Math.max(largest, 1e-9) / count);
  const last = Math.max(1, Math.ceil(largest / step - 1e-9));
  const ticks = Array.from({ length: last + 1 }, (_, i) => i * step);
  const end = last * step;
  return { at: (value) => zero + ((top - zero) * value) / end, ticks };
}
