import { describe, expect, test } from 'vitest';
import { robustScale } from '../../src/stats/mad.ts';
import { outlierChance } from '../../src/stats/outlier_chance.ts';
import { seededDraw } from '../../src/stats/random.ts';
import { isOutlierZ, robustZ } from '../../src/stats/robust_z.ts';

describe('share beyond a robust z of 3.5 by chance', () => {
  // Simulated in R 4.2.2, rnorm, mad(constant = 1).
  test.each([
    [10, 0.0168],
    [15, 0.011],
    [20, 0.0068],
    [30, 0.0039],
    [50, 0.0022],
    [100, 0.0011],
    [200, 0.0008],
  ])('of %d', (n, share) => {
    expect(outlierChance(n)).toBeCloseTo(share, 12);
  });

  test('between them on a line of logarithms', () => {
    // Worked out with Python 3.11: exp(ln .0068 + ln(.0039/.0068)·ln(25/20)/ln(30/20)); beyond 200 the last line goes on.
    expect(outlierChance(25)!).toBeCloseTo(0.005007633346125286, 12);
    expect(outlierChance(400)!).toBeCloseTo(0.0005818181818181818, 12);
    expect(outlierChance(Math.sqrt(50 * 100))).toBeCloseTo(Math.sqrt(0.0022 * 0.0011), 12);
  });

  test('falls with n, to that of the normal distribution and no lower', () => {
    const shares = Array.from({ length: 2000 }, (_, at) => outlierChance(10 + at)!);
    expect(shares.every((share, at) => at === 0 || share <= shares[at - 1])).toBe(true);
    expect(outlierChance(1e6)).toBe(0.00047);
    expect(outlierChance(9)).toBeUndefined();
    expect(outlierChance(Number.NaN)).toBeUndefined();
  });

  test('is what normal values show', () => {
    // Normal values by Box and Muller, Ann Math Stat 1958;29:610-611. 4000 groups of 20: 544 expected, SD about 35.
    const draw = seededDraw(20);
    const uniform = (): number => (draw(1e9) + 0.5) / 1e9;
    const normal = (): number => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    let beyond = 0;
    for (let group = 0; group < 4000; group++) {
      const values = Array.from({ length: 20 }, normal);
      const scale = robustScale(values)!;
      beyond += values.filter((value) => isOutlierZ(robustZ(value, scale)!)).length;
    }
    expect(beyond / 80_000).toBeGreaterThan(0.0058);
    expect(beyond / 80_000).toBeLessThan(0.0078);
  });
});
