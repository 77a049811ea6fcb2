import { Z95 } from './normal.ts';
import { quantile } from './quantile.ts';

export interface MedianDifference {
  /** median of the first group minus that of the second */
  readonly difference: number;
  readonly error: number;
  readonly low: number;
  readonly high: number;
}

export interface MedianSettings {
  /** taken where the interquartile range is smaller: the step of a device that rounds */
  readonly leastIqr?: number;
  /** centres that were worked out from these values and taken off: each costs a degree of freedom */
  readonly centres?: number;
}

/** SD of the median of n normal values: 1.25 IQR / (1.35 √n). */
const MEDIAN_ERROR = 1.25 / 1.35;

/**
 * Difference of two medians with a 95 % interval, in the unit of the values: d ± 1.959963985 √(s1² + s2²), each
 * s = 1.25 IQR / (1.35 √n), which holds for values that are normal in the middle, whatever their tails; both times
 * √(N/(N − k)) if k centres were taken off all N values. Quartiles are of type 7. Needs 2 in each group and N > k; below
 * 10 in a group it is rough. Source: Am Stat 1978;32:12-16.
 */
export function medianDifference(
  first: readonly number[],
  second: readonly number[],
  { leastIqr = 0, centres = 0 }: MedianSettings = {},
): MedianDifference | undefined {
  const all = first.length + second.length;
  if (first.length < 2 || second.length < 2 || all <= centres) return undefined;
  const [a, b] = [first, second].map((values) => medianOf(values, leastIqr));
  const difference = a.median - b.median;
  const error = Math.hypot(a.error, b.error) * Math.sqrt(all / (all - centres));
  return { difference, error, low: difference - Z95 * error, high: difference + Z95 * error };
}

function medianOf(values: readonly number[], leastIqr: number): { median: number; error: number } {
  const sorted = Float64Array.from(values).sort();
  const iqr = Math.max(leastIqr, quantile(sorted, 0.75)! - quantile(sorted, 0.25)!);
  return { median: quantile(sorted, 0.5)!, error: (MEDIAN_ERROR * iqr) / Math.sqrt(values.length) };
}
