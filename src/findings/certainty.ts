import { round9 } from '../stats/round9.ts';
import type { CERTAINTIES } from '../tables/schemas.ts';

export type Certainty = (typeof CERTAINTIES)[number];

/**
 * How sure a finding is, given the 95 % measurement error of its number.
 * @param margin distance beyond the limit
 * @param error 95 % error in the same unit; undefined: unknown
 * @param unequalTrials one side had more trials to be good in than the other, which no error covers
 */
export function certaintyOf(margin: number, error: number | undefined, unequalTrials: boolean): Certainty {
  if (error === undefined) return 'error_unknown';
  return round9(margin) >= round9(error) && !unequalTrials ? 'clear' : 'within_error';
}
