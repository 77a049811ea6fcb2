import fc from 'fast-check';
import { expect, test } from 'vitest';
import { formatBeside } from '../../src/findings/format_beside.ts';
import { round9 } from '../../src/stats/round9.ts';

// Worked out by hand: three digits, more where rounding would put the number on the limit's other side or onto it.
test.each([
  [11.2, 10, '11.2'],
  [11.1888, 10, '11.2'],
  [10, 10, '10'],
  [(100 * (18 - 16.2)) / 18, 10, '10'],
  [9.996, 10, '9.996'],
  [9.99999, 10, '9.99999'],
  [10.04, 10, '10.04'],
  [10.4, 10, '10.4'],
  [0.7966, 0.8, '0.797'],
  [0.79996, 0.8, '0.79996'],
  [0.72, 0.8, '0.72'],
  [148, 140, '148'],
  [140.4, 140, '140.4'],
  [147.6, 140, '148'],
  [-0.00001, 0, '-0.00001'],
  [-20.4, -20, '-20.4'],
  [0, 3, '0'],
  [-0, 3, '0'],
  [99.96, 90, '100'],
  [1_234_567.891, 1_000_000, '1234567.891'],
])('%d beside %d is written %s', (value, limit, text) => {
  expect(formatBeside(value, limit)).toBe(text);
});

test('the text of a number stands on the same side of the limit as the number', () => {
  const number = fc.oneof(
    fc.double({ min: -1e7, max: 1e7, noNaN: true }),
    fc.integer({ min: -2000, max: 2000 }).map((tenths) => tenths / 10),
  );
  fc.assert(
    fc.property(number, number, fc.integer({ min: -3, max: 3 }), (limit, other, steps) => {
      for (const value of [other, limit + steps * 1e-9, limit + steps * 1e-4]) {
        const read = Number(formatBeside(value, limit));
        expect(Math.sign(read - round9(limit))).toBe(Math.sign(round9(value) - round9(limit)));
      }
    }),
  );
});
