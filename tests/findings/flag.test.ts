import { describe, expect, test } from 'vitest';
import { flag } from '../../src/findings/flag.ts';
import { MARK } from '../../src/tables/schemas.ts';
import { bookOf, briefly, measureOf, NOBODY, protocolOf, resultsOf, sides } from './build.ts';

const HIP = measureOf('hip', { label: 'Hip strength' });
const PULSE = measureOf('pulse', { sides: 'none', unit: { code: '/min', factor: 1, dimension: 'rate' } });

test('a finding tells all that the contract asks', () => {
  const protocol = protocolOf({
    measures: [HIP],
    rules: [
      { name: 'hip_weak', measure: 'hip', comparator: 'below', limit: 200, grade: 'act', programme: 'strong_hips' },
    ],
    sportGroups: [{ name: 'groin', label: 'Groin', teams: ['Rowing'], measures: ['hip'] }],
    programmes: new Map([['strong_hips', { name: 'strong_hips', label: 'Strong hips', owner: 'strength' }]]),
  });
  const results = resultsOf([{ measure: 'hip', ...sides(180, 210), sem_left: 5, sem_right: 6 }]);
  expect([...flag(results, bookOf({ A1: { team: 'Rowing' } }), protocol).rows()]).toEqual([
    {
      athlete_id: 'A1',
      team: 'Rowing',
      season: 2026,
      date: '2026-08-12',
      sport_group: 'groin',
      rule: 'hip_weak',
      measure: 'hip',
      side: 'left',
      field: 'value',
      value: 180,
      limit: 200,
      margin: 20,
      // Worked out by hand: 1.959963985 · 5.
      error: expect.closeTo(9.799819925, 9),
      error_basis: expect.stringMatching(/^(declared|derived)$/),
      certainty: 'clear',
      grade: 'act',
      previous_injury: null,
      programme: 'strong_hips',
      owner: 'strength',
      message: expect.stringContaining('Hip strength, left'),
    },
  ]);
});

describe('certainty', () => {
  const rules = [{ name: 'uneven', measure: 'hip', field: 'deficit_pct', comparator: 'above', limit: 10 }] as const;
  const protocol = protocolOf({ measures: [HIP], rules });
  const certainty = (row: object): unknown[] => {
    const findings = flag(resultsOf([{ measure: 'hip', ...sides(200, 250), ...row }]), NOBODY, protocol);
    return [...findings.rows()].map((finding) => finding.certainty);
  };

  // Worked out by hand: at 200 against 250 the margin is 10; with s = 2 on both sides the error of the deficit is
  // 1.96 · (100 / 250) · √(2² + 0.8² · 2²) = 2.0, with s = 20 it is 20.1.
  test.each([
    [{ sem_left: 2, sem_right: 2 }, 'clear'],
    [{ sem_left: 20, sem_right: 20 }, 'within_error'],
    [{}, 'error_unknown'],
    [{ sem_left: 2 }, 'error_unknown'],
    [{ sem_left: 2, sem_right: 2, status: 'few_trials;unequal_trials' }, 'within_error'],
    [{ status: 'unequal_trials' }, 'error_unknown'],
  ])('with %o is %s', (row, expected) => {
    expect(certainty(row)).toEqual([expected]);
  });

  test('of a value does not suffer from unequal trials', () => {
    const weak = [{ name: 'weak', measure: 'hip', comparator: 'below', limit: 210 }] as const;
    const row = { measure: 'hip', ...sides(200, 250), sem_left: 2, sem_right: 2, status: 'unequal_trials' };
    const findings = flag(resultsOf([row]), NOBODY, protocolOf({ measures: [HIP], rules: weak }));
    expect([...findings.rows()].map((finding) => finding.certainty)).toEqual(['clear']);
  });

  test('does not soften a refer', () => {
    const refer = [{ name: 'fast', measure: 'pulse', comparator: 'above', limit: 120, grade: 'refer' }] as const;
    const row = { measure: 'pulse', value: 121, sem_value: 4 };
    const findings = flag(resultsOf([row]), NOBODY, protocolOf({ measures: [PULSE], rules: refer }));
    expect([...findings.rows()]).toMatchObject([
      {
        grade: 'refer',
        certainty: 'within_error',
        message: expect.stringContaining('the referral stands all the same'),
      },
    ]);
  });
});

test('findings stand by athlete, date, measure, rule, side, whatever the order of the rows', () => {
  const protocol = protocolOf({
    measures: [PULSE, HIP],
    rules: [
      { name: 'weak', measure: 'hip', comparator: 'below', limit: 200 },
      { name: 'fast', measure: 'pulse', comparator: 'above', limit: 120 },
      { name: 'frail', measure: 'hip', comparator: 'below', limit: 190 },
    ],
  });
  const rows = [
    { athlete_id: 'b', measure: 'hip', ...sides(150, 150) },
    { athlete_id: 'B', measure: 'hip', ...sides(150, 150), marks: MARK.painLeft },
    { athlete_id: 'B', measure: 'pulse', value: 130, date: '2026-10-01' },
    { athlete_id: 'B', measure: 'pulse', value: 130 },
  ];
  const expected = [
    'B fast none',
    'B weak left',
    'B weak right',
    'B frail left',
    'B frail right',
    'B pain left',
    'B fast none',
    'b weak left',
    'b weak right',
    'b frail left',
    'b frail right',
  ];
  expect(briefly(flag(resultsOf(rows), NOBODY, protocol))).toEqual(expected);
  expect(briefly(flag(resultsOf(rows.toReversed()), NOBODY, protocol))).toEqual(expected);
});

describe('is refused with exit code 2', () => {
  test('a table of results without marks', () => {
    const results = resultsOf([{ measure: 'hip', marks: Number.NaN }]);
    expect(() => flag(results, NOBODY, protocolOf({ measures: [HIP] }))).toThrow(
      expect.objectContaining({ exitCode: 2, message: expect.stringContaining('cannot be judged') }),
    );
  });

  test('a table of results of another protocol', () => {
    expect(() => flag(resultsOf([{ measure: 'pulse' }]), NOBODY, protocolOf({ measures: [HIP] }))).toThrow(
      expect.objectContaining({ exitCode: 2, message: expect.stringContaining('pulse') }),
    );
  });

  test('a rule that cannot be judged yet', () => {
    const rules = [{ name: 'drop', measure: 'hip', field: 'change', comparator: 'below', limit: -5 }] as const;
    expect(() => flag(resultsOf([]), NOBODY, protocolOf({ measures: [HIP], rules }))).toThrow(
      expect.objectContaining({ exitCode: 2, message: expect.stringContaining('drop') }),
    );
  });
});

test('no results give no findings', () => {
  expect(flag(resultsOf([]), NOBODY, protocolOf({ measures: [HIP] })).length).toBe(0);
});
