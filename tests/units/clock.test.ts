import { expect, it } from 'vitest';
import { readClock } from '../../src/units/clock.ts';

// Seconds worked out by hand.
it.each([
  ['0:01.92', 1.92],
  ['0:01,92', 1.92],
  ['00:09.5', 9.5],
  ['1:23.4', 83.4],
  [' 1:02 ', 62],
  ['1:02:03', 3723],
  ['1:62:03', undefined],
  ['0:75', undefined],
  ['1.92', undefined],
  ['0:1.92', undefined],
  ['', undefined],
  ['1:'.repeat(100_000), undefined],
])('%s is %d s', (text, seconds) => {
  expect(readClock(text)).toBe(seconds);
});
