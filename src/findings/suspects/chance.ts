import { kindOf } from './blocks.ts';
import type { Readings } from './readings.ts';

/** How often the numbers of a measure stand in one sheet. */
export interface Frequencies {
  readonly counts: Map<number, number>;
  readings: number;
  /** ordered pairs of readings that are the same number: Σ n(n − 1) */
  equal: number;
}

/** Frequencies of the numbers of each kind in each sheet, by `sheetKey`. */
export function frequencies(readings: Readings): ReadonlyMap<number, Frequencies> {
  const all = new Map<number, Frequencies>();
  for (let row = 0; row < readings.length; row++) {
    const key = sheetKey(readings, row);
    let one = all.get(key);
    if (one === undefined) {
      one = { counts: new Map(), readings: 0, equal: 0 };
      all.set(key, one);
    }
    const before = one.counts.get(readings.value[row]) ?? 0;
    one.counts.set(readings.value[row], before + 1);
    one.readings++;
    one.equal += 2 * before;
  }
  return all;
}

export function sheetKey(readings: Readings, row: number): number {
  return kindOf(readings, row) * 1e9 + readings.file[row] + 1;
}

/**
 * Chance that two readings of a sheet are the same number: Σ n(n − 1) / N(N − 1), some readings of one number left out,
 * which may be there by a slip.
 */
export function tieChance({ counts, readings, equal }: Frequencies, number = Number.NaN, leftOut = 0): number {
  const total = readings - leftOut;
  if (total < 2) return 1;
  const all = counts.get(number) ?? 0;
  const left = Math.max(0, all - leftOut);
  const pairs = equal - all * (all - 1) + left * (left - 1);
  // None found among so many pairs is not never.
  return Math.min(1, (pairs + 1) / (total * (total - 1)));
}

/** P(X ≥ k) of a Poisson distribution. */
export function atLeastByChance(k: number, mean: number): number {
  let term = Math.exp(-mean);
  let below = 0;
  for (let at = 0; at < k; at++) {
    below += term;
    term *= mean / (at + 1);
  }
  return Math.max(0, 1 - below);
}
