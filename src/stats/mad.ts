import { mean, median } from './simple.ts';

/** Centre and spread of some values that a few wild ones hardly move; all in the unit of the values. */
export interface RobustScale {
  readonly median: number;
  /** median absolute deviation from the median, not scaled */
  readonly mad: number;
  /** mean absolute deviation from the median */
  readonly meanDistance: number;
}

/**
 * Median, median absolute deviation from it, MAD = median|x − median|, and mean absolute deviation from it. Needs 1.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods 1.3.5.6 and 1.3.5.17.
 */
export function robustScale(values: readonly number[]): RobustScale | undefined {
  const middle = median(values);
  if (middle === undefined) return undefined;
  const distances = values.map((value) => Math.abs(value - middle));
  return { median: middle, mad: median(distances)!, meanDistance: mean(distances)! };
}
