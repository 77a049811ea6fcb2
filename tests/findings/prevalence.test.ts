import { expect, test } from 'vitest';
import { flag } from '../../src/findings/flag.ts';
import { flagsMost, tally } from '../../src/findings/prevalence.ts';
import { MARK } from '../../src/tables/schemas.ts';
import { bookOf, measureOf, protocolOf, type ResultGiven, resultsOf, sides } from './build.ts';

const HIP = measureOf('hip');
const SQUAT = measureOf('squat', { sides: 'none' });
const PROTOCOL = protocolOf({
  measures: [HIP, SQUAT],
  rules: [
    { name: 'weak', measure: 'hip', comparator: 'below', limit: 200 },
    { name: 'uneven', measure: 'hip', field: 'deficit_pct', comparator: 'above', limit: 10 },
    { name: 'faults', measure: 'squat', comparator: 'at_least', limit: 2, sex: 'F' },
  ],
});
const BOOK = bookOf({
  A1: { team: 'Rowing', sex: 'F' },
  A2: { team: 'Fencing;Rowing', sex: 'M' },
  A3: { team: 'Fencing' },
});

function counts(...rows: ResultGiven[]): string[] {
  const results = resultsOf(rows);
  return tally(results, flag(results, BOOK, PROTOCOL), BOOK, PROTOCOL).map(
    ({ season, rule, team, tested, flagged }) => `${season} ${rule} ${team || 'all'} ${flagged}/${tested}`,
  );
}
const only = (rule: string, lines: string[]): string[] => lines.filter((line) => line.includes(` ${rule} `));

// All counts are worked out by hand.
test('counts athletes for all and for each of their teams', () => {
  const lines = counts(
    { athlete_id: 'A1', measure: 'hip', ...sides(180, 210) },
    { athlete_id: 'A2', measure: 'hip', ...sides(150, 150) },
    { athlete_id: 'A3', measure: 'hip', ...sides(250, 250) },
  );
  expect(only('weak', lines)).toEqual(['2026 weak all 2/3', '2026 weak Fencing 1/2', '2026 weak Rowing 2/2']);
  expect(only('uneven', lines)).toEqual(['2026 uneven all 1/3', '2026 uneven Fencing 0/2', '2026 uneven Rowing 1/2']);
});

test('counts an athlete only with every side that the rule needs', () => {
  const lines = counts({ athlete_id: 'A1', measure: 'hip', left: 150 });
  expect(only('weak', lines)).toEqual([]);
  expect(only('one_side', lines)).toEqual(['2026 one_side all 1/1', '2026 one_side Rowing 1/1']);
});

test('counts the first occasion of a season on which the rule could be judged', () => {
  const lines = counts(
    { athlete_id: 'A1', measure: 'hip', left: 150 },
    { athlete_id: 'A1', measure: 'hip', ...sides(210, 210), date: '2026-09-20' },
    { athlete_id: 'A1', measure: 'hip', ...sides(100, 100), date: '2026-11-20' },
    { athlete_id: 'A1', measure: 'hip', ...sides(100, 100), date: '2027-08-20', season: 2027 },
  );
  expect(only('weak', lines)).toEqual([
    '2026 weak all 0/1',
    '2026 weak Rowing 0/1',
    '2027 weak all 1/1',
    '2027 weak Rowing 1/1',
  ]);
});

test('counts only athletes to whom the rule applies', () => {
  const squat = { measure: 'squat', value: 3 };
  const lines = counts({ athlete_id: 'A1', ...squat }, { athlete_id: 'A2', ...squat }, { athlete_id: 'A3', ...squat });
  expect(only('faults', lines)).toEqual(['2026 faults all 1/1', '2026 faults Rowing 1/1']);
});

test('counts an athlete once for pain in several measures, and those turned away as asked', () => {
  const lines = counts(
    { athlete_id: 'A1', measure: 'hip', marks: MARK.painLeft | MARK.painRight },
    { athlete_id: 'A1', measure: 'squat', value: 0, marks: MARK.painOther },
    { athlete_id: 'A2', measure: 'hip', status: 'missing_left;missing_right;refused' },
    { athlete_id: 'A3', measure: 'hip', status: 'missing_left;missing_right;not_tested' },
  );
  expect(only('pain', lines)).toEqual(['2026 pain all 1/2', '2026 pain Fencing 0/1', '2026 pain Rowing 1/2']);
});

test('stands by season, rule and team', () => {
  const lines = counts(
    { athlete_id: 'A1', measure: 'hip', ...sides(180, 210) },
    { athlete_id: 'A1', measure: 'squat', value: 0 },
  );
  expect(lines.map((line) => line.split(' ')[1])).toEqual(
    ['weak', 'uneven', 'faults', 'pain', 'unable', 'one_side'].flatMap((rule) => [rule, rule]),
  );
});

test.each([
  [10, 5, false],
  [10, 6, true],
  [0, 0, false],
])('of %d tested %d flagged is more than half: %s', (tested, flagged, most) => {
  expect(flagsMost({ season: 2026, rule: 'weak', team: '', tested, flagged })).toBe(most);
});

test('no results give no counts', () => {
  expect(counts()).toEqual([]);
});
