import { sampleStandardDeviation, mean as simpleMean, median as simpleMedian } from 'simple-statistics';

// The only importer of simple-statistics: its functions take blanks and NaN without a word, so callers pass finite
// numbers only, and what is not computable is undefined here.

/** Arithmetic mean, in the unit of the values. Needs 1. */
export function mean(values: readonly number[]): number | undefined {
  return values.length < 1 ? undefined : simpleMean(values as number[]);
}

/** Median; the mean of the middle two for an even count. Needs 1. */
export function median(values: readonly number[]): number | undefined {
  return values.length < 1 ? undefined : simpleMedian(values as number[]);
}

/** Sample standard deviation (n − 1 in the denominator), in the unit of the values. Needs 2. */
export function sampleSd(values: readonly number[]): number | undefined {
  return values.length < 2 ? undefined : sampleStandardDeviation(values as number[]);
}
