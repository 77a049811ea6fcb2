import { Z95 } from './normal.ts';

/** Limits of a 95 % interval. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

/**
 * 95 % score interval of a proportion, without correction for continuity:
 * (p + z²/2n ± z √(p(1−p)/n + z²/4n²)) / (1 + z²/n), p = x/n. The lower limit of none is 0, the upper one of all is 1.
 * Needs n > 0; x and n need not be whole, as an effective number is not. Source: Stat Med 1998;17:857-872, method 3.
 * @param x how many of n, 0 to n
 * @returns limits of the proportion, 0 to 1; undefined without n
 */
export function wilson(x: number, n: number): Interval | undefined {
  if (!(n > 0)) return undefined;
  const p = x / n;
  const z2 = Z95 * Z95;
  const scale = 1 + z2 / n;
  const middle = (p + z2 / (2 * n)) / scale;
  const half = (Z95 * Math.sqrt((p * (1 - p)) / n + z2 / (4 * n * n))) / scale;
  return {
    low: x <= 0 ? 0 : Math.max(0, middle - half),
    high: x >= n ? 1 : Math.min(1, middle + half),
  };
}
