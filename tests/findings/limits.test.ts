import { describe, expect, test } from 'vitest';
import { flag } from '../../src/findings/flag.ts';
import type { Measure } from '../../src/protocol/types.ts';
import { briefly, measureOf, NOBODY, protocolOf, type ResultGiven, type RuleGiven, resultsOf, sides } from './build.ts';

const HIP = measureOf('hip');
const PRESSURE = measureOf('pressure', { sides: 'none' });

function judge(measure: Measure, rule: Omit<RuleGiven, 'name' | 'measure'>, ...rows: Omit<ResultGiven, 'measure'>[]) {
  const protocol = protocolOf({ measures: [measure], rules: [{ name: 'rule', measure: measure.name, ...rule }] });
  return flag(resultsOf(rows.map((row) => ({ measure: measure.name, ...row }))), NOBODY, protocol);
}

const hits = (...given: Parameters<typeof judge>): [string | null, number | null, number | null][] =>
  [...judge(...given).rows()].map(({ side, value, margin }) => [side, value, margin]);

// All expected sides, values and margins of this file are worked out by hand from the limit in the rule.
describe('a limit on a value', () => {
  test.each([
    ['below', 139, [['none', 139, 1]]],
    ['below', 140, []],
    ['below', 141, []],
    ['at_most', 139, [['none', 139, 1]]],
    ['at_most', 140, [['none', 140, 0]]],
    ['at_most', 141, []],
    ['above', 139, []],
    ['above', 140, []],
    ['above', 141, [['none', 141, 1]]],
    ['at_least', 139, []],
    ['at_least', 140, [['none', 140, 0]]],
    ['at_least', 141, [['none', 141, 1]]],
  ] as const)('%s 140 judges %d', (comparator, value, expected) => {
    expect(hits(PRESSURE, { comparator, limit: 140 }, { value })).toEqual(expected);
  });

  test('of a measure with sides judges each side', () => {
    const rule = { comparator: 'below', limit: 200 } as const;
    expect(hits(HIP, rule, sides(190, 180))).toEqual([
      ['left', 190, 10],
      ['right', 180, 20],
    ]);
    expect(hits(HIP, rule, sides(210, 180))).toEqual([['right', 180, 20]]);
    expect(hits(HIP, rule, { left: 190 }).slice(0, 1)).toEqual([['left', 190, 10]]);
  });

  test('does not judge the two limbs at once', () => {
    expect(hits(HIP, { comparator: 'below', limit: 900 }, { ...sides(950, 960), both: 800 })).toEqual([]);
  });
});

describe('the worse side', () => {
  test.each([
    ['higher', 'below', 200, sides(180, 190), [['left', 180, 20]]],
    ['higher', 'below', 200, sides(210, 190), [['right', 190, 10]]],
    ['higher', 'below', 200, sides(190, 190), [['none', 190, 10]]],
    ['lower', 'above', 200, sides(230, 210), [['left', 230, 30]]],
    ['lower', 'above', 200, sides(190, 210), [['right', 210, 10]]],
    ['between', 'above', 200, sides(220, 210), [['left', 220, 20]]],
    ['between', 'at_most', 200, sides(190, 150), [['right', 150, 50]]],
    ['higher', 'below', 200, sides(210, 205), []],
  ] as const)('with better: %s and %s %d', (better, comparator, limit, row, expected) => {
    expect(hits(measureOf('hip', { better }), { field: 'worse', comparator, limit }, row)).toEqual(expected);
  });

  test.each([
    [{ left: 190 }, 'left'],
    [{ right: 190 }, 'right'],
  ] as const)('of %o is the one that was measured', (row, side) => {
    const findings = hits(HIP, { field: 'worse', comparator: 'below', limit: 200 }, row);
    expect(findings).toContainEqual([side, 190, 10]);
  });
});

describe('a comparison of the sides', () => {
  test('of 18 against 16.2 is a deficit of 10 %: not above 10, but at least 10', () => {
    expect(hits(HIP, { field: 'deficit_pct', comparator: 'above', limit: 10 }, sides(18, 16.2))).toEqual([]);
    expect(hits(HIP, { field: 'deficit_pct', comparator: 'at_least', limit: 10 }, sides(18, 16.2))).toEqual([
      ['right', expect.closeTo(10, 12), 0],
    ]);
  });

  test.each([
    ['deficit_pct', 'above', 10, sides(200, 250), [['left', 20, 10]]],
    ['gap', 'above', 30, sides(250, 200), [['right', 50, 20]]],
    ['difference', 'below', -30, sides(250, 200), [['right', -50, 20]]],
    ['direction_pct', 'at_least', 20, sides(200, 250), [['left', 20, 0]]],
    ['dominance_pct', 'below', -10, { ...sides(200, 250), dominance_pct: -20 }, [['left', -20, 10]]],
    ['dominance_gap', 'below', -10, { ...sides(200, 250), dominance_gap: -50 }, [['left', -50, 40]]],
    ['gap', 'above', 30, { ...sides(250, 200), weaker: null }, [['none', 50, 20]]],
  ] as const)('%s %s %d stands for the weaker side', (field, comparator, limit, row, expected) => {
    expect(hits(HIP, { field, comparator, limit }, row)).toEqual(expected);
  });

  test('that could not be made breaks nothing', () => {
    const findings = judge(HIP, { field: 'deficit_pct', comparator: 'above', limit: 10 }, { left: 200 });
    expect(briefly(findings)).toEqual(['A1 one_side right']);
  });
});

describe('of: any_trial', () => {
  test('judges the highest reading where high numbers break the limit', () => {
    const rule = { comparator: 'at_least', limit: 140 } as const;
    const row = { value: 132, least_value: 132, most_value: 148 };
    expect(hits(PRESSURE, { ...rule, of: 'any_trial' }, row)).toEqual([['none', 148, 8]]);
    expect(hits(PRESSURE, rule, row)).toEqual([]);
  });

  test('judges the lowest reading where low numbers break the limit', () => {
    const row = { value: 100, least_value: 92, most_value: 148 };
    expect(hits(PRESSURE, { comparator: 'below', limit: 95, of: 'any_trial' }, row)).toEqual([['none', 92, 3]]);
  });

  test('judges each side by its own trials', () => {
    const row = { ...sides(200, 210), least_left: 170, most_left: 200, least_right: 205, most_right: 210 };
    expect(hits(HIP, { comparator: 'at_most', limit: 170, of: 'any_trial' }, row)).toEqual([['left', 170, 0]]);
    expect(hits(HIP, { comparator: 'below', limit: 190, of: 'any_trial', field: 'worse' }, row)).toEqual([
      ['left', 170, 20],
    ]);
  });
});
