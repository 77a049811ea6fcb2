import { describe, expect, test } from 'vitest';
import { flag } from '../../src/findings/flag.ts';
import { MARK } from '../../src/tables/schemas.ts';
import {
  bookOf,
  briefly,
  measureOf,
  NOBODY,
  type ProtocolGiven,
  protocolOf,
  type ResultGiven,
  resultsOf,
  sides,
} from './build.ts';

const HIP = measureOf('hip');
const SQUAT = measureOf('squat', { sides: 'none' });
const RATIO = measureOf('ratio', { derivation: { operator: 'ratio', parts: [HIP, HIP] } });
const MEASURES = [HIP, SQUAT, RATIO];

function judge(given: Omit<ProtocolGiven, 'measures'>, ...rows: ResultGiven[]) {
  return flag(resultsOf(rows), NOBODY, protocolOf({ measures: MEASURES, ...given }));
}

describe('built-in status findings', () => {
  test.each([
    ['hip', MARK.painLeft, ['A1 pain left']],
    ['hip', MARK.painRight | MARK.unableLeft, ['A1 pain right', 'A1 unable left']],
    ['hip', MARK.painLeft | MARK.painRight, ['A1 pain left', 'A1 pain right']],
    ['hip', MARK.painOther, ['A1 pain both']],
    ['squat', MARK.painOther, ['A1 pain none']],
    ['squat', MARK.unableOther, ['A1 unable none']],
    ['hip', MARK.unableRight, ['A1 unable right']],
    ['squat', 0, []],
  ])('of %s with marks %d', (measure, marks, expected) => {
    expect(briefly(judge({}, { measure, marks }))).toEqual(expected);
  });

  test('say which side was left out', () => {
    expect(briefly(judge({}, { measure: 'hip', left: 200 }))).toEqual(['A1 one_side right']);
    expect(briefly(judge({}, { measure: 'hip', right: 200 }))).toEqual(['A1 one_side left']);
    expect(briefly(judge({}, { measure: 'hip', ...sides(200, 200) }))).toEqual([]);
    expect(briefly(judge({}, { measure: 'hip', both: 400 }))).toEqual([]);
  });

  test('are not made of derived measures', () => {
    expect(briefly(judge({}, { measure: 'ratio', left: 1, marks: MARK.painLeft }))).toEqual([]);
  });

  test('hold whatever the battery of the athlete', () => {
    const sportGroups = [{ name: 'groin', label: 'Groin', teams: ['Fencing'], measures: ['squat'] }];
    expect(briefly(judge({ sportGroups }, { measure: 'hip', marks: MARK.painLeft }))).toEqual(['A1 pain left']);
  });

  test('have the grades of the protocol, no limit, and an owner where medical staff must look', () => {
    const rows = [...judge({}, { measure: 'hip', left: 200, marks: MARK.painLeft | MARK.unableRight }).rows()];
    expect(rows.map(({ rule, grade, owner, programme }) => [rule, grade, owner, programme])).toEqual([
      ['pain', 'refer', 'medical', null],
      ['unable', 'act', null, null],
      ['one_side', 'watch', null, null],
    ]);
    for (const row of rows) {
      expect(row).toMatchObject({
        field: 'status',
        value: null,
        limit: null,
        margin: null,
        error: null,
        error_basis: null,
        certainty: 'not_applicable',
      });
    }
    const statuses = { pain: 'act', unable: 'refer', one_side: 'act' } as const;
    const other = judge({ statuses }, { measure: 'hip', left: 200, marks: MARK.painLeft | MARK.unableRight });
    expect([...other.rows()].map(({ grade, owner }) => [grade, owner])).toEqual([
      ['act', 'medical'],
      ['refer', 'medical'],
      ['act', null],
    ]);
  });
});

describe('a status rule of the protocol', () => {
  const painful = { measure: 'hip', marks: MARK.painLeft } as const;

  test.each([
    ['refer', ['A1 hip_pain left']],
    ['act', ['A1 pain left']],
  ] as const)('with grade %s meets the built-in finding on the same mark: the higher stays', (grade, expected) => {
    const rules = [{ name: 'hip_pain', measure: 'hip', status: 'pain', grade }] as const;
    expect(briefly(judge({ rules }, painful))).toEqual(expected);
  });

  test('leaves built-in findings of other sides, statuses and measures alone', () => {
    const rules = [{ name: 'squat_pain', measure: 'squat', status: 'pain', grade: 'refer' }] as const;
    expect(briefly(judge({ rules }, painful, { measure: 'squat', marks: MARK.painOther | MARK.unableOther }))).toEqual([
      'A1 pain left',
      'A1 squat_pain none',
      'A1 unable none',
    ]);
  });

  test('that does not apply leaves the built-in finding', () => {
    const rules = [{ name: 'hip_pain', measure: 'hip', status: 'pain', grade: 'refer', sex: 'F' }] as const;
    expect(briefly(judge({ rules }, painful))).toEqual(['A1 pain left']);
    const protocol = protocolOf({ measures: MEASURES, rules });
    expect(briefly(flag(resultsOf([painful]), bookOf({ A1: { sex: 'F' } }), protocol))).toEqual(['A1 hip_pain left']);
  });

  test('keeps its programme and the programme its owner', () => {
    const programmes = new Map([['rest', { name: 'rest', label: 'Rest', owner: 'strength' }]]) as never;
    const rules = [{ name: 'hip_pain', measure: 'hip', status: 'pain', grade: 'refer', programme: 'rest' }] as const;
    expect([...judge({ rules, programmes }, painful).rows()][0]).toMatchObject({
      programme: 'rest',
      owner: 'strength',
    });
  });
});
