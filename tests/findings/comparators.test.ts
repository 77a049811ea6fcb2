import { describe, expect, test } from 'vitest';
import { breaksLimit, marginBeyond } from '../../src/findings/comparators.ts';

// Worked out by hand: each comparator just inside, at, and just outside a limit of 10.
const CASES = [
  ['below', 10.001, false, undefined],
  ['below', 10, false, undefined],
  ['below', 9.999, true, 0.001],
  ['at_most', 10.001, false, undefined],
  ['at_most', 10, true, 0],
  ['at_most', 9.999, true, 0.001],
  ['above', 9.999, false, undefined],
  ['above', 10, false, undefined],
  ['above', 10.001, true, 0.001],
  ['at_least', 9.999, false, undefined],
  ['at_least', 10, true, 0],
  ['at_least', 10.001, true, 0.001],
] as const;

describe('a number against a limit', () => {
  test.each(CASES)('%s 10: %d breaks it: %s', (comparator, value, breaks, margin) => {
    expect(breaksLimit(value, comparator, 10)).toBe(breaks);
    if (margin !== undefined) expect(marginBeyond(value, comparator, 10)).toBe(margin);
  });

  // Worked out by hand: 100 (18 - 16.2) / 18 is 10, and 10.0000000000000036 in doubles.
  test('equal numbers tie although doubles differ', () => {
    const deficit = (100 * (18 - 16.2)) / 18;
    expect(deficit).not.toBe(10);
    expect(breaksLimit(deficit, 'above', 10)).toBe(false);
    expect(breaksLimit(deficit, 'at_least', 10)).toBe(true);
    expect(marginBeyond(deficit, 'at_least', 10)).toBe(0);
  });

  test.each(['below', 'at_most', 'above', 'at_least'] as const)(
    'an unknown number breaks no limit (%s)',
    (comparator) => {
      expect(breaksLimit(Number.NaN, comparator, 10)).toBe(false);
    },
  );
});
