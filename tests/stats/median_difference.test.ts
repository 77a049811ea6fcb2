import { describe, expect, test } from 'vitest';
import { medianDifference } from '../../src/stats/median_difference.ts';
import { seededDraw } from '../../src/stats/random.ts';
import { smallestStep } from '../../src/stats/smallest_step.ts';

describe('difference of two medians', () => {
  test('with its interval', () => {
    // Worked out by hand: medians 5 and 2; quartiles 3 and 7, 1 and 3; s = 1.25·4/(1.35·3) and 1.25·2/(1.35·√5).
    const found = medianDifference([9, 8, 7, 6, 5, 4, 3, 2, 1], [0, 1, 2, 3, 4])!;
    const error = Math.hypot((1.25 * 4) / (1.35 * 3), (1.25 * 2) / (1.35 * Math.sqrt(5)));
    expect(found.difference).toBe(3);
    expect(found.error).toBeCloseTo(error, 12);
    expect(found.low).toBeCloseTo(3 - 1.959963985 * error, 12);
    expect(found.high).toBeCloseTo(3 + 1.959963985 * error, 12);
  });

  test('readings that are all alike are not known better than by their step', () => {
    expect(medianDifference([5, 5, 5, 5], [4, 4, 4, 4])!.error).toBe(0);
    // Worked out by hand: 1.25·1/(1.35·2) in each group.
    const { error } = medianDifference([5, 5, 5, 5], [4, 4, 4, 4], { leastIqr: 1 })!;
    expect(error).toBeCloseTo(((1.25 / 1.35) * Math.SQRT2) / 2, 12);
  });

  test('centres that were taken off widen it', () => {
    const [a, b] = [
      [1, 2, 3, 4],
      [2, 3, 4, 5],
    ];
    const plain = medianDifference(a, b)!.error;
    expect(medianDifference(a, b, { centres: 2 })!.error).toBeCloseTo(plain * Math.sqrt(8 / 6), 12);
    expect(medianDifference(a, b, { centres: 8 })).toBeUndefined();
  });

  test('needs two in each group', () => {
    expect(medianDifference([1], [1, 2, 3])).toBeUndefined();
    expect(medianDifference([1, 2, 3], [])).toBeUndefined();
  });

  test('leaves out 0 in about one of twenty pairs of alike groups', () => {
    const draw = seededDraw(5);
    const uniform = (): number => (draw(1e9) + 0.5) / 1e9;
    const normal = (): number => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    const sample = (n: number): number[] => Array.from({ length: n }, normal);
    let without = 0;
    for (let pair = 0; pair < 2000; pair++) {
      const { low, high } = medianDifference(sample(25), sample(40))!;
      if (low > 0 || high < 0) without++;
    }
    // Of 2000 pairs 100, SD 10, and a little more as the quartiles are of few.
    expect(without).toBeGreaterThan(60);
    expect(without).toBeLessThan(150);
  });
});

describe('smallest step', () => {
  test('between different values in any order', () => {
    expect(smallestStep([12, 10.5, 12, 11])).toBe(0.5);
    expect(smallestStep([0.3, 0.1 + 0.2, 0.5])).toBe(0.2);
    expect(smallestStep([3, 3, 3])).toBeUndefined();
    expect(smallestStep([])).toBeUndefined();
  });
});
