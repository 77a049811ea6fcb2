import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { clusteredShare } from '../../src/stats/clustered_share.ts';
import { wilson } from '../../src/stats/wilson.ts';
import { SEEDED } from '../seeded.ts';

const clusters = (...pairs: [number, number][]) => pairs.map(([x, n]) => ({ x, n }));

describe('share of readings of which several are of one athlete', () => {
  // Worked out by hand: p = 3/6, Σ(x − p n)² = 0 + 1 + 1, v = 3/2 · 2/36 = 1/12, 0.25 · 12 = 3 of 6 readings;
  // half width 1.959964 · √(0.25/3 + 3.841459/36) / (1 + 3.841459/3) = 0.374666.
  test('three athletes, two readings each', () => {
    const found = clusteredShare(clusters([1, 2], [0, 2], [2, 2]))!;
    expect(found.share).toBe(0.5);
    expect(found.effective).toBeCloseTo(3, 12);
    expect(found.low).toBeCloseTo(0.125334, 6);
    expect(found.high).toBeCloseTo(0.874666, 6);
  });

  // Worked out by hand: equal shares leave no variance, though 1/3 has no exact double.
  test('equal shares of all athletes: as many readings as athletes', () => {
    expect(clusteredShare(clusters([1, 3], [1, 3], [1, 3], [1, 3]))!.effective).toBe(4);
    expect(clusteredShare(clusters([0, 2], [0, 1]))).toMatchObject({ share: 0, low: 0, effective: 2 });
    expect(clusteredShare(clusters([2, 2], [1, 1], [3, 3]))).toMatchObject({ share: 1, high: 1, effective: 3 });
  });

  // Worked out by hand: p = 3/7, Σ(x − p n)² = 12/49, v = 4/3 · 12/49 / 49, p(1 − p)/v = 36.75.
  test('never more than there are readings', () => {
    expect(clusteredShare(clusters([1, 2], [1, 2], [1, 2], [0, 1]))!.effective).toBe(7);
  });

  test('one athlete is one reading; athletes without any do not count; nobody has no share', () => {
    expect(clusteredShare(clusters([1, 4], [0, 0]))).toMatchObject({ share: 0.25, effective: 1 });
    expect(clusteredShare([])).toBeUndefined();
    expect(clusteredShare(clusters([0, 0]))).toBeUndefined();
  });

  test('is never narrower than if all readings were of different athletes, and does not mind their order', () => {
    const cluster = fc.tuple(fc.nat(6), fc.nat(6)).map(([x, y]): [number, number] => [x, x + y]);
    fc.assert(
      fc.property(fc.array(cluster, { minLength: 1, maxLength: 30 }), (pairs) => {
        const found = clusteredShare(clusters(...pairs));
        const x = pairs.reduce((sum, [own]) => sum + own, 0);
        const n = pairs.reduce((sum, [, own]) => sum + own, 0);
        expect(found === undefined).toBe(n === 0);
        if (found === undefined) return;
        const { low, high, share, effective } = found;
        const naive = wilson(x, n)!;
        expect(low).toBeLessThanOrEqual(naive.low + 1e-12);
        expect(high).toBeGreaterThanOrEqual(naive.high - 1e-12);
        expect(low).toBeLessThanOrEqual(share);
        expect(high).toBeGreaterThanOrEqual(share);
        expect(effective).toBeGreaterThan(0);
        expect(clusteredShare(clusters(...pairs.toReversed()))).toEqual(found);
      }),
      SEEDED,
    );
  });
});
