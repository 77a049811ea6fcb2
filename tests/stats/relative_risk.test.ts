import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { hasEmptyCell, logRelativeRisk, relativeRisk, type TwoGroups } from '../../src/stats/relative_risk.ts';
import { SEEDED } from '../seeded.ts';

const groups = (flagged: number, tested: number, othersFlagged: number, othersTested: number): TwoGroups => ({
  flagged,
  tested,
  othersFlagged,
  othersTested,
});

describe('ratio of two shares, log method', () => {
  test.each([
    // 189 births, data birthwt of the R package MASS: low birth weight by smoking, as worked out in the help of the R
    // package epiR: 30 of 74, 29 of 115.
    ['births', groups(30, 74, 29, 115), 1.61, 1.06, 2.44],
    // The same help, first example: 13 of 2176, 5 of 3354.
    ['cats', groups(13, 2176, 5, 3354), 4.01, 1.43, 11.23],
    // N Engl J Med 1989;321:129-135: 189 of 11034, 104 of 11037.
    ['aspirin', groups(189, 11_034, 104, 11_037), 1.82, 1.43, 2.31],
  ])('as published: %s', (_, given, ratio, low, high) => {
    const found = relativeRisk(given)!;
    expect(found.ratio).toBeCloseTo(ratio, 2);
    expect(found.low).toBeCloseTo(low, 2);
    expect(found.high).toBeCloseTo(high, 2);
    expect(hasEmptyCell(given)).toBe(false);
  });

  // Worked out by hand: 4 of 10 against 0 of 20 becomes 4.5 of 11 against 0.5 of 21, (4.5/11)/(0.5/21) = 17.1818;
  // SE² = 1/4.5 − 1/11 + 1/0.5 − 1/21 = 2.0836941, SE 1.4435007; e^(ln 17.1818 ± 1.9599640 · 1.4435007).
  test('0.5 is added to all four cells if one is 0', () => {
    const given = groups(4, 10, 0, 20);
    expect(hasEmptyCell(given)).toBe(true);
    const { ratio, low, high } = relativeRisk(given)!;
    expect(ratio).toBeCloseTo(17.181818, 6);
    expect(low).toBeCloseTo(17.181818 / Math.exp(1.959964 * 1.4435007), 4);
    expect(high).toBeCloseTo(17.181818 * Math.exp(1.959964 * 1.4435007), 2);
  });

  test('everybody of one group is a cell of 0 too', () => {
    // (10.5/11) / (5.5/21)
    expect(relativeRisk(groups(10, 10, 5, 20))!.ratio).toBeCloseTo(3.6446281, 6);
  });

  test.each([
    ['nobody flagged in both', groups(0, 10, 0, 20)],
    ['everybody flagged in both', groups(10, 10, 20, 20)],
    ['an empty group', groups(0, 0, 3, 20)],
    ['no others', groups(3, 10, 0, 0)],
  ])('%s: nothing to compare', (_, given) => {
    expect(relativeRisk(given)).toBeUndefined();
    expect(logRelativeRisk(given)).toBeUndefined();
  });

  test('is turned around with the groups, and its interval with it', () => {
    const part = fc.tuple(fc.nat(60), fc.nat(60)).map(([x, y]) => [x, x + y] as const);
    fc.assert(
      fc.property(part, part, ([a, n], [b, m]) => {
        const found = relativeRisk(groups(a, n, b, m));
        const turned = relativeRisk(groups(b, m, a, n));
        expect(found === undefined).toBe(turned === undefined);
        if (found === undefined || turned === undefined) return;
        expect(found.ratio * turned.ratio).toBeCloseTo(1, 9);
        expect(found.low * turned.high).toBeCloseTo(1, 9);
        expect(found.low).toBeLessThan(found.ratio);
        expect(found.high).toBeGreaterThan(found.ratio);
        expect(Math.log(found.ratio)).toBeCloseTo(logRelativeRisk(groups(a, n, b, m))!, 12);
      }),
      SEEDED,
    );
  });
});
