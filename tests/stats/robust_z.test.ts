import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { robustScale } from '../../src/stats/mad.ts';
import { isFallback, isOutlierZ, outlierDistance, robustZ } from '../../src/stats/robust_z.ts';
import { SEEDED } from '../seeded.ts';

interface Vector {
  readonly values: readonly number[];
  readonly median: number;
  readonly mad: number;
  readonly mean_distance: number;
  readonly z: readonly (number | null)[];
  readonly fallback_z: readonly (number | null)[];
}

const json = <T>(name: string): T =>
  JSON.parse(readFileSync(new URL(`../reference/${name}`, import.meta.url), 'utf8')) as T;
const agrees = (got: number, want: number): boolean => Math.abs(got - want) <= 1e-9 * Math.abs(want) + 1e-10;

describe('robust z', () => {
  // tests/reference/b12-edges: R 4.2.2, mad(constant = 1), and the mean distance from the median where the MAD is 0.
  test.each(Object.entries(json<Record<string, Vector>>('b12-edges/robust_z.json')))('of %s', (_, wanted) => {
    const scale = robustScale(wanted.values)!;
    expect(agrees(scale.median, wanted.median)).toBe(true);
    expect(agrees(scale.mad, wanted.mad)).toBe(true);
    expect(agrees(scale.meanDistance, wanted.mean_distance)).toBe(true);
    const z = wanted.values.map((value) => robustZ(value, scale));
    const want = wanted.values.map((_, at) => wanted.z[at] ?? wanted.fallback_z[at]);
    expect(z.map((one) => one === undefined)).toEqual(want.map((one) => one === null));
    expect(z.every((one, at) => one === undefined || agrees(one, want[at]!))).toBe(true);
  });

  test('says when it is taken from the mean distance', () => {
    expect(isFallback(robustScale([5, 5, 5, 5, 9])!)).toBe(true);
    expect(isFallback(robustScale([1, 2, 3])!)).toBe(false);
    // 0.1 + 0.2 is not 0.3, and yet alike.
    expect(isFallback(robustScale([0.3, 0.1 + 0.2, 0.3, 7])!)).toBe(true);
  });

  test('exactly at 3.5 is no outlier', () => {
    // Worked out by hand: 3.5 · 2 / 0.6745 from the median of 0, with a MAD of 2.
    const scale = robustScale([-3, -2, -2, 0, 2, 2, 3])!;
    expect(scale).toMatchObject({ median: 0, mad: 2 });
    const cut = outlierDistance(scale);
    expect(cut).toBeCloseTo(10.378057820607857, 12);
    expect([cut, -cut, cut + 1e-6, -cut - 1e-6].map((value) => isOutlierZ(robustZ(value, scale)!))).toEqual([
      false,
      false,
      true,
      true,
    ]);
  });

  test('the distance of an outlier where the MAD is 0', () => {
    // Worked out by hand: the mean distance of 5, 5, 5, 5, 9 is 0.8; 3.5 · 1.253314 · 0.8.
    expect(outlierDistance(robustScale([5, 5, 5, 5, 9])!)).toBeCloseTo(3.5092792, 9);
  });

  test('nothing has no scale', () => {
    expect(robustScale([])).toBeUndefined();
  });

  test('does not care about unit, zero or order, and turns with the sign', () => {
    const values = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 3, maxLength: 40 });
    const move = fc.record({ factor: fc.integer({ min: 1, max: 50 }), plus: fc.integer({ min: -500, max: 500 }) });
    fc.assert(
      fc.property(values, move, (all, { factor, plus }) => {
        const z = robustZ(all[0], robustScale(all)!);
        const moved = robustZ(all[0] * factor + plus, robustScale(all.map((one) => one * factor + plus).reverse())!);
        const turned = robustZ(-all[0], robustScale(all.map((one) => -one))!);
        if (z === undefined) expect([moved, turned]).toEqual([undefined, undefined]);
        else {
          expect(moved).toBeCloseTo(z, 9);
          expect(turned).toBeCloseTo(-z, 9);
        }
      }),
      SEEDED,
    );
  });
});
