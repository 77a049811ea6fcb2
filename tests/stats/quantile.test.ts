import { expect, test } from 'vitest';
import { quantile } from '../../src/stats/quantile.ts';

// Worked out by hand: place 1 + (n − 1) p, Am Stat 1996;50:361-365, definition 7.
test.each([
  [[1, 2, 3, 4], 0.25, 1.75],
  [[1, 2, 3, 4], 0.5, 2.5],
  [[1, 2, 3, 4, 10], 0.9, 7.6],
  [[1, 2, 3], 0, 1],
  [[1, 2, 3], 1, 3],
  [[5], 0.3, 5],
])('of %j at %d', (sorted, p, want) => {
  expect(quantile(sorted, p)).toBeCloseTo(want, 12);
});

test('nothing has no quantile', () => {
  expect(quantile([], 0.5)).toBeUndefined();
});
