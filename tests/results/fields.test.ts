import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bilateralIndexPct, deficitPct, signedPct, symmetryAngle } from '../../src/results/fields.ts';
import { round9 } from '../../src/stats/round9.ts';

describe('25 against 20', () => {
  // Strength Cond J 2016;38(6):27-32, nine equations; J Sports Sci Med 2021;20:594 ff, table 4; recomputed to two decimals.
  it('has a deficit of 20.00 % and a symmetry angle of 7.04', () => {
    expect(deficitPct(20, 25)).toBe(20);
    expect(deficitPct(25, 20)).toBe(20);
    expect(signedPct(25, 20)).toBe(20);
    expect(signedPct(20, 25)).toBe(-20);
    expect(symmetryAngle(20, 25)).toBeCloseTo(7.04, 2);
    expect(symmetryAngle(25, 20)).toBeCloseTo(-7.04, 2);
  });
});

describe('symmetry angle of a given deficit', () => {
  // Recomputed from the formula of Gait Posture 2008;27:622-627, two decimals.
  it.each([
    [5, 1.63],
    [10, 3.35],
    [15, 5.15],
    [20, 7.04],
    [25, 9.03],
    [30, 11.12],
  ])('%i %% → %f', (deficit, angle) => {
    expect(symmetryAngle(100 - deficit, 100)).toBeCloseTo(angle, 2);
    expect(deficitPct(100 - deficit, 100)).toBeCloseTo(deficit, 12);
  });
});

describe('bilateral index', () => {
  // J Appl Physiol 1991;70:306-316 (formula); both 1000, right 550, left 530, two decimals.
  it('of 1000 against 530 and 550 is -7.41', () => {
    expect(bilateralIndexPct(1000, 530, 550)).toBeCloseTo(-7.41, 2);
  });
});

describe('rounding at a limit', () => {
  it('makes 18 against 16.2 a deficit of exactly 10', () => {
    expect(deficitPct(16.2, 18)).not.toBe(10);
    expect(round9(deficitPct(16.2, 18))).toBe(10);
    expect(Object.is(round9(-1e-12), 0)).toBe(true);
    expect(round9(1234567.123456788)).toBe(1234567.12345679);
  });
});

const positive = fc.double({ min: 1e-3, max: 1e6, noNaN: true });

describe('whatever the two sides are', () => {
  it('swapping them turns the signed numbers and keeps the deficit', () => {
    fc.assert(
      fc.property(positive, positive, (left, right) => {
        expect(deficitPct(left, right)).toBe(deficitPct(right, left));
        expect(signedPct(left, right)).toBe(-signedPct(right, left) || 0);
        expect(symmetryAngle(left, right)).toBeCloseTo(-symmetryAngle(right, left), 9);
        expect(Math.abs(signedPct(left, right))).toBe(deficitPct(left, right));
      }),
    );
  });
});
