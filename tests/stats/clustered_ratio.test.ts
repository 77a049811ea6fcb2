import { describe, expect, test } from 'vitest';
import { clusteredRatio } from '../../src/stats/clustered_ratio.ts';
import { relativeRisk, type TwoGroups } from '../../src/stats/relative_risk.ts';

const own = (flagged: number, tested: number): TwoGroups => ({ flagged, tested, othersFlagged: 0, othersTested: 0 });
const other = (othersFlagged: number, othersTested: number): TwoGroups => ({
  flagged: 0,
  tested: 0,
  othersFlagged,
  othersTested,
});
const times = (count: number, one: TwoGroups): TwoGroups[] => Array.from({ length: count }, () => one);

describe('ratio of two shares by bootstrap over athletes', () => {
  // 80 of 200 against 60 of 300, each athlete once.
  const single = [
    ...times(80, own(1, 1)),
    ...times(120, own(0, 1)),
    ...times(60, other(1, 1)),
    ...times(240, other(0, 1)),
  ];

  test('independent readings: the ratio is 2, and the interval near that of the log method', () => {
    const found = clusteredRatio(single, 2000, 1)!;
    const log = relativeRisk({ flagged: 80, tested: 200, othersFlagged: 60, othersTested: 300 })!;
    expect(found.ratio).toBeCloseTo(2, 12);
    // A quantile of 2000 draws has a standard error of some 0.06 SD, a quarter of which is 0.04 here.
    expect(Math.abs(Math.log(found.low! / log.low))).toBeLessThan(0.04);
    expect(Math.abs(Math.log(found.high! / log.high))).toBeLessThan(0.04);
  });

  test('each athlete four times over: the same interval as once, and wider than four times as many athletes', () => {
    const fourfold = single.map(({ flagged, tested, othersFlagged, othersTested }) => ({
      flagged: 4 * flagged,
      tested: 4 * tested,
      othersFlagged: 4 * othersFlagged,
      othersTested: 4 * othersTested,
    }));
    const once = clusteredRatio(single, 500, 3)!;
    const found = clusteredRatio(fourfold, 500, 3)!;
    expect(found.ratio).toBeCloseTo(once.ratio, 12);
    expect(found.low!).toBeCloseTo(once.low!, 12);
    expect(found.high!).toBeCloseTo(once.high!, 12);
    const naive = relativeRisk({ flagged: 320, tested: 800, othersFlagged: 240, othersTested: 1200 })!;
    expect(found.low!).toBeLessThan(naive.low);
    expect(found.high!).toBeGreaterThan(naive.high);
  });

  test('the same seed gives the same limits, athletes without readings do not count', () => {
    const found = clusteredRatio(single, 200, 5);
    expect(clusteredRatio([...single, own(0, 0)], 200, 5)).toEqual(found);
    expect(clusteredRatio(single, 200, 6)).not.toEqual(found);
  });

  // Worked out by hand: with two athletes half of all draws hold one of them twice, and tell nothing.
  test('no limits where too many draws tell nothing', () => {
    const found = clusteredRatio([own(1, 2), other(1, 4)], 200, 1);
    expect(found).toEqual({ ratio: 2, low: undefined, high: undefined });
  });

  test('nothing to compare', () => {
    expect(clusteredRatio([own(0, 3), other(0, 4)], 200, 1)).toBeUndefined();
    expect(clusteredRatio([], 200, 1)).toBeUndefined();
  });
});
