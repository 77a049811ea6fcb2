import { describe, expect, test } from 'vitest';
import { flag } from '../../src/findings/flag.ts';
import type { Measure } from '../../src/protocol/types.ts';
import { MARK } from '../../src/tables/schemas.ts';
import { measureOf, NOBODY, protocolOf, type ResultGiven, type RuleGiven, resultsOf, sides } from './build.ts';

const HIP = measureOf('hip', {
  label: 'Hip adduction strength',
  error: { sem_pct: 5, basis: 'occasions' },
});
const SYSTOLIC = measureOf('systolic', {
  label: 'Systolic pressure',
  sides: 'none',
  unit: { code: 'mm[Hg]', factor: 1, dimension: 'pressure' },
});
const RATIO = measureOf('ratio', { label: 'Adductor ratio', unit: { code: '1', factor: 1, dimension: '1' } });
const ROTATION = measureOf('rotation', {
  label: 'Hip rotation',
  unit: { code: 'deg', factor: 1, dimension: 'angle' },
  compare: 'gap',
});

function message(
  measure: Measure,
  rule: Omit<RuleGiven, 'name' | 'measure'>,
  row: Omit<ResultGiven, 'measure'>,
): string {
  const protocol = protocolOf({ measures: [measure], rules: [{ name: 'rule', measure: measure.name, ...rule }] });
  const findings = flag(resultsOf([{ measure: measure.name, ...row }]), NOBODY, protocol);
  return findings.columns.message.get(0)!;
}
/** Sides with a standard error of measurement of 5 % of each reading. */
const with5Percent = (left: number, right: number) => ({
  ...sides(left, right),
  sem_left: left * 0.05,
  sem_right: right * 0.05,
});

// Errors worked out by hand by the formulas of derived errors: 1.96 · (100 / M) · √(s(m)² + q² s(M)²) for a deficit,
// 1.96 · √(s(L)² + s(R)²) for a gap, 1.96 · s for a value.
describe('a finding in words', () => {
  const deficit = { field: 'deficit_pct', comparator: 'above', limit: 10 } as const;

  test('within error', () => {
    // q = 0.888, √2 · 5 · 0.888 · 1.96 = 12.3. At 5 % a side 13.8 % of symmetric athletes read beyond 10 % (simulation).
    expect(message(HIP, deficit, with5Percent(222, 250))).toBe(
      'Hip adduction strength, left: side-to-side deficit 11.2 %, above the limit of 10 %; measurement error ±12.3 points, ' +
        'so not distinguishable from the limit; with this error about 14 % of symmetric athletes would read beyond the limit.',
    );
  });

  test('clear', () => {
    // q = 0.6, √2 · 5 · 0.6 · 1.96 = 8.3.
    expect(message(HIP, deficit, with5Percent(250, 150))).toBe(
      'Hip adduction strength, right: side-to-side deficit 40 %, above the limit of 10 %; measurement error ±8.32 points, ' +
        'so clearly beyond the limit; with this error about 14 % of symmetric athletes would read beyond the limit.',
    );
  });

  test('with an unknown error', () => {
    expect(message(HIP, deficit, sides(222, 250))).toBe(
      'Hip adduction strength, left: side-to-side deficit 11.2 %, above the limit of 10 %; measurement error unknown, ' +
        'so how far this can be trusted cannot be said.',
    );
  });

  test('with unequal trials', () => {
    expect(message(HIP, deficit, { ...with5Percent(250, 150), status: 'unequal_trials' })).toContain(
      'measurement error ±8.32 points, and farther beyond the limit than that, but one side had more trials: repeat the test',
    );
  });

  test('of a referral', () => {
    const rule = { comparator: 'at_least', limit: 140, grade: 'refer', of: 'any_trial' } as const;
    expect(message(SYSTOLIC, rule, { value: 132, least_value: 132, most_value: 148, sem_value: 5 })).toBe(
      'Systolic pressure: highest reading 148 mmHg, limit 140 mmHg or more; measurement error ±9.8 mmHg, ' +
        'so not distinguishable from the limit; the referral stands all the same.',
    );
    expect(message(SYSTOLIC, { ...rule, of: 'kept' }, { value: 140 })).toBe(
      'Systolic pressure: 140 mmHg, limit 140 mmHg or more.',
    );
  });

  test('of a number that rounding would put on the limit', () => {
    expect(message(RATIO, { comparator: 'below', limit: 0.8 }, sides(0.79996, 0.9))).toMatch(
      /^Adductor ratio, left: 0\.79996, below the limit of 0\.8; /,
    );
  });

  test.each([
    [{ comparator: 'at_most', limit: 30 }, 'Hip rotation, left: 30°, limit 30° or less; '],
    [
      { comparator: 'below', limit: 31, field: 'worse' },
      'Hip rotation, left: worse side 30°, below the limit of 31°; ',
    ],
    [
      { comparator: 'above', limit: 5, field: 'gap' },
      'Hip rotation, left: side-to-side gap 10°, above the limit of 5°; ',
    ],
    [
      { comparator: 'above', limit: 5, field: 'difference' },
      'Hip rotation, left: right minus left 10°, above the limit of 5°; ',
    ],
  ] as const)('of %o', (rule, start) => {
    expect(message(ROTATION, rule, sides(30, 40)).slice(0, start.length)).toBe(start);
  });

  test('of a signed comparison leaves symmetric athletes out', () => {
    const rule = { field: 'direction_pct', comparator: 'above', limit: 10 } as const;
    expect(message(HIP, rule, with5Percent(222, 250))).not.toContain('symmetric');
  });

  test('of few symmetric athletes', () => {
    expect(message(HIP, { ...deficit, limit: 30 }, with5Percent(150, 250))).toMatch(
      /; with this error fewer than 1 % of symmetric athletes would read beyond the limit\.$/,
    );
  });
});

test.each([
  [{ marks: MARK.painLeft }, 'Hip adduction strength, left: pain during the test.'],
  [{ marks: MARK.painOther }, 'Hip adduction strength, both limbs at once: pain during the test.'],
  [{ marks: MARK.unableRight }, 'Hip adduction strength, right: the test could not be done.'],
  [
    { left: 200 },
    'Hip adduction strength, right: no number for this side and one for the other, so they cannot be compared.',
  ],
])('%o in words', (row, text) => {
  expect(message(HIP, { comparator: 'below', limit: 1 }, row)).toBe(text);
});
