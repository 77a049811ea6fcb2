import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { wilson } from '../../src/stats/wilson.ts';
import { SEEDED } from '../seeded.ts';

const TABLE = readFileSync(new URL('../reference/b02-proportions/wilson.csv', import.meta.url), 'utf8');

describe('95 % score interval of a proportion', () => {
  // Stat Med 1998;17:857-872, table I, method 3, to four digits.
  test.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])('%d of %d as published', (x, n, low, high) => {
    const interval = wilson(x, n)!;
    expect(interval.low).toBeCloseTo(low, 4);
    expect(interval.high).toBeCloseTo(high, 4);
  });

  // tests/reference/b02-proportions: R 4.2.2, checked there against prop.test(correct = FALSE).
  test('every row of the reference', () => {
    const rows = Papa.parse<Record<string, string>>(TABLE, { header: true, skipEmptyLines: true }).data;
    expect(rows).toHaveLength(19);
    const agrees = (got: number, want: number): boolean => Math.abs(got - want) <= 1e-9 * Math.abs(want) + 1e-10;
    const wrong = rows.filter((row) => {
      const { low, high } = wilson(Number(row.x), Number(row.n))!;
      return !agrees(low, Number(row.low)) || !agrees(high, Number(row.high));
    });
    expect(wrong).toEqual([]);
  });

  test('nobody has no interval; none is exactly 0 below, all exactly 1 above', () => {
    expect(wilson(0, 0)).toBeUndefined();
    expect(wilson(0, 7)!.low).toBe(0);
    expect(wilson(7, 7)!.high).toBe(1);
  });

  test('holds the proportion, lies between 0 and 1, and turns with it', () => {
    const counts = fc.tuple(fc.nat(500), fc.nat(500)).filter(([x, y]) => x + y > 0);
    fc.assert(
      fc.property(counts, ([x, y]) => {
        const n = x + y;
        const { low, high } = wilson(x, n)!;
        expect(low).toBeGreaterThanOrEqual(0);
        expect(high).toBeLessThanOrEqual(1);
        expect(low).toBeLessThanOrEqual(x / n);
        expect(high).toBeGreaterThanOrEqual(x / n);
        expect(wilson(y, n)!.low).toBeCloseTo(1 - high, 12);
      }),
      SEEDED,
    );
  });
});
