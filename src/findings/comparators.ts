import type { Comparator } from '../protocol/types.ts';
import { round9 } from '../stats/round9.ts';

/** Whether a low number breaks a limit with this comparator. */
export function lowBreaks(comparator: Comparator): boolean {
  return comparator === 'below' || comparator === 'at_most';
}

/**
 * Whether a number breaks a limit. Both are rounded to nine decimals first, so that 18 against 16.2 is a deficit of 10
 * and not above it. An unknown number (NaN) breaks nothing.
 */
export function breaksLimit(value: number, comparator: Comparator, limit: number): boolean {
  if (Number.isNaN(value)) return false;
  const judged = round9(value);
  const against = round9(limit);
  if (comparator === 'below') return judged < against;
  if (comparator === 'at_most') return judged <= against;
  if (comparator === 'above') return judged > against;
  return judged >= against;
}

/** Distance beyond the limit of a number that breaks it, in the number's unit; never negative. */
export function marginBeyond(value: number, comparator: Comparator, limit: number): number {
  const distance = round9(value) - round9(limit);
  return Math.max(0, round9(lowBreaks(comparator) ? -distance : distance));
}
