import { describe, expect, test } from 'vitest';
import type { LimitCheck } from '../../src/findings/check.ts';
import { checksByMeasureCode } from '../../src/findings/checks.ts';
import { findingError, symmetricShare } from '../../src/findings/finding_error.ts';
import type { Measure } from '../../src/protocol/types.ts';
import { measureOf, protocolOf, type ResultGiven, type RuleGiven, resultsOf, sides } from './build.ts';

const Z95 = 1.959963985;

/** The first hit of one rule on one row, with what there is to know of its error. */
function errorOf(
  measure: Measure,
  rule: Omit<RuleGiven, 'name' | 'measure'>,
  row: Omit<ResultGiven, 'measure'>,
): { error?: number; basis?: string; share?: number } {
  const results = resultsOf([{ measure: measure.name, ...row }]);
  const protocol = protocolOf({ measures: [measure], rules: [{ name: 'rule', measure: measure.name, ...rule }] });
  const check = checksByMeasureCode(results, protocol)[0][0] as LimitCheck;
  const probe = check.probes.find((one) => one.isBroken(0))!;
  const battery = { teams: [], applies: [true], sportGroups: [''] };
  const hit = { row: 0, check, side: probe.sideOf(0), value: probe.valueOf(0), battery };
  return { ...findingError(hit, check, results), share: symmetricShare(hit, check, results) };
}

const DEFICIT = { field: 'deficit_pct', comparator: 'above', limit: 10 } as const;
const HIP = measureOf('hip', { error: { sem_pct: 5, basis: 'occasions' } });

describe('the share of symmetric athletes beyond a limit', () => {
  // Simulated in R 4.2.2: deficits of two equal sides with independent normal errors of 5 % and of 8 %.
  test.each([
    [5, 0.138],
    [8, 0.35],
  ])('at %d % a side agrees with simulation', (percent, simulated) => {
    const sem = { sem_left: (200 * percent) / 100, sem_right: (250 * percent) / 100 };
    const { share } = errorOf(HIP, DEFICIT, { ...sides(200, 250), ...sem });
    expect(Math.abs(share! - simulated)).toBeLessThan(0.005);
  });

  // Worked out by hand: the gap of two sides with s = 10 has s = 14.14, and 2 Φ(−1.959963985) is 0.05.
  test('of a gap is judged in the unit', () => {
    const rule = { field: 'gap', comparator: 'at_least', limit: Z95 * Math.SQRT2 * 10 } as const;
    const { share } = errorOf(HIP, rule, { ...sides(200, 250), sem_left: 10, sem_right: 10 });
    expect(share).toBeCloseTo(0.05, 8);
  });

  // Worked out by hand: −100 ln(0.9) = 10.536 is 1.959963985 standard errors of 5.3756.
  test('follows an error declared for the field', () => {
    const errors = { deficit_pct: { sem: (-100 * Math.log(0.9)) / Z95, basis: 'occasions' } } as const;
    expect(errorOf(measureOf('hip', { errors }), DEFICIT, sides(200, 250)).share).toBeCloseTo(0.05, 8);
  });

  test.each([
    [{ field: 'direction_pct', comparator: 'above', limit: 10 }],
    [{ field: 'deficit_pct', comparator: 'below', limit: 30 }],
  ] as const)('is not said of %o', (rule) => {
    expect(errorOf(HIP, rule, { ...sides(200, 250), sem_left: 10, sem_right: 10 }).share).toBeUndefined();
  });
});

describe('the error of a number against a limit', () => {
  const low = { comparator: 'below', limit: 300 } as const;

  // Worked out by hand: z95 times the standard error of the side that is judged, or of the comparison.
  test.each([
    [low, { right: 250, sem_right: 12 }, 12],
    [{ ...low, field: 'worse' }, { ...sides(260, 250), sem_left: 13, sem_right: 12 }, 12],
    [{ ...low, field: 'worse' }, { ...sides(240, 250), sem_left: 13, sem_right: 12 }, 13],
    [{ ...low, field: 'worse' }, { ...sides(250, 250), sem_left: 12, sem_right: 12 }, 12],
    [{ field: 'gap', comparator: 'above', limit: 10 }, { ...sides(200, 250), sem_left: 3, sem_right: 4 }, 5],
    // 100 / 250 · √(10² + 0.8² · 12.5²) = 0.4 · √200
    [DEFICIT, { ...sides(200, 250), sem_left: 10, sem_right: 12.5 }, 0.4 * Math.sqrt(200)],
    // A single trial of 200 with an error of 5 %.
    [
      { ...low, of: 'any_trial' },
      { ...sides(310, 310), least_left: 310, least_right: 200, sem_left: 15.5, sem_right: 15.5 },
      10,
    ],
  ] as const)('%o on %o', (rule, row, sem) => {
    expect(errorOf(HIP, rule, row).error).toBeCloseTo(Z95 * sem, 9);
  });

  test('tells whether it was declared', () => {
    const row = { ...sides(200, 250), sem_left: 10, sem_right: 10 };
    expect(errorOf(HIP, low, row).basis).toBe('declared');
    expect(errorOf(HIP, DEFICIT, row).basis).toBe('derived');
  });

  test('is unknown without one', () => {
    expect(errorOf(HIP, DEFICIT, sides(200, 250)).error).toBeUndefined();
  });
});
