import { describe, expect, it } from 'vitest';
import { normalCdf, Z90, Z95 } from '../../src/stats/normal.ts';

describe('distribution function of the standard normal', () => {
  // From memory: what R prints for pnorm() with 17 digits.
  it.each([
    [0, 0.5],
    [1, 0.84134474606854293],
    [-1, 0.15865525393145707],
    [2, 0.97724986805182079],
    [-2, 0.02275013194817921],
    [-3, 0.0013498980316300933],
    [-4, 3.1671241833119857e-5],
    [-6, 9.865876450376946e-10],
    [-10, 7.6198530241605251e-24],
    [-20, 2.7536241186062337e-89],
  ])('at %d is %d', (z, p) => {
    expect(Math.abs(normalCdf(z) - p)).toBeLessThanOrEqual(2e-13 * p);
  });

  it('gives back the two-sided levels of the quantiles that the contract rounds', () => {
    expect(1 - 2 * normalCdf(-Z95)).toBeCloseTo(0.95, 9);
    expect(1 - 2 * normalCdf(-Z90)).toBeCloseTo(0.9, 6);
  });
});
