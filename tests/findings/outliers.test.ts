import { readFileSync } from 'node:fs';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { robustOutliers } from '../../src/findings/outliers/robust_outliers.ts';
import type { Measure, SportGroup } from '../../src/protocol/types.ts';
import { bookOf, measureOf, NOBODY, protocolOf, type ResultGiven, resultsOf } from './build.ts';

const MASS = measureOf('mass', { sides: 'none' });
/** Median 100 and MAD 2 of any whole number of nines: an outlier lies farther than 3.5·2/0.6745 = 10.378 away. */
const SPREAD = [96, 97, 98, 99, 100, 101, 102, 103, 104];

const id = (at: number): string => `A${String(at).padStart(3, '0')}`;
const people = (values: readonly number[], given: Partial<ResultGiven> = {}): ResultGiven[] =>
  values.map((value, at) => ({ athlete_id: id(at), measure: 'mass', value, ...given }));
const spread = (count: number): number[] => Array.from({ length: count }, (_, at) => SPREAD[at % SPREAD.length]);

function found(
  rows: readonly ResultGiven[],
  measures: readonly Measure[] = [MASS],
  book = NOBODY,
  groups: SportGroup[] = [],
) {
  const results = resultsOf(rows);
  const { outliers, tallies } = robustOutliers(results, book, protocolOf({ measures, sportGroups: groups }));
  const list = outliers.map(({ row, cell, value, z }) => ({
    who: `${results.columns.athlete_id.get(row)} ${cell.season} ${cell.measure.name} ${cell.side}`,
    value,
    z: Number(z.toFixed(6)),
    among: cell.firstScores.length,
    group: cell.sportGroup,
  }));
  return { list, outliers, tallies };
}

describe('kept scores far from those of athletes who are alike', () => {
  test('needs twenty athletes', () => {
    expect(found(people([...spread(18), 150])).list).toEqual([]);
    // Worked out by hand: of two nines, a 96 and 150 the median is 100, the middle two distances are 2 and 3.
    expect(found(people([...spread(19), 150])).list).toEqual([
      { who: 'A019 2026 mass none', value: 150, z: 13.49, among: 20, group: '' },
    ]);
  });

  test('says what would be no outlier', () => {
    const [{ low, high }] = found(people([...spread(27), 150])).outliers;
    // Worked out by hand: 28 athletes, median 100, MAD 2.
    expect([low, high]).toEqual([89.621942179, 110.378057821]);
    expect(found(people([...spread(27), 110.37])).list).toEqual([]);
    expect(found(people([...spread(27), 110.38])).list).toHaveLength(1);
    expect(found(people([...spread(27), 89.62])).list).toMatchObject([{ z: -3.500655 }]);
  });

  test('left, right, both limbs and no side are told apart', () => {
    const rows = spread(27).map(
      (value, at): ResultGiven => ({
        athlete_id: id(at),
        measure: 'hip',
        left: value,
        right: value * 2,
        both: value * 3,
      }),
    );
    rows.push({ athlete_id: 'B', measure: 'hip', left: 200, right: 200, both: 300 });
    expect(found(rows, [measureOf('hip')]).list.map(({ who }) => who)).toEqual(['B 2026 hip left']);
  });

  test('sex, season and sport group are told apart; whoever has no sex stands with those who have none', () => {
    const sexes = bookOf(
      Object.fromEntries(Array.from({ length: 60 }, (_, at) => [id(at), { sex: at < 30 ? 'F' : 'M' }])),
    );
    const rows = people([...spread(30), ...spread(30).map((value) => value * 2)]);
    expect(found(rows, [MASS], sexes).list).toEqual([]);
    // The women alone, and one of them as heavy as the men.
    rows[3] = { ...rows[3], value: 200 };
    expect(found(rows, [MASS], sexes).list.map(({ who }) => who)).toEqual(['A003 2026 mass none']);
    expect(found(rows, [MASS]).list.map(({ who }) => who)).not.toContain('A003 2026 mass none');
    const seasons = people(spread(30)).flatMap((row) => [
      row,
      { ...row, season: 2027, date: '2027-08-12', value: row.value! * 2 },
    ]);
    expect(found(seasons).list).toEqual([]);
  });

  test('an athlete of two sport groups is one row, by the larger z', () => {
    const groups = [
      { name: 'groin', label: 'Groin', teams: ['Rowing', 'Fencing'], measures: [] },
      { name: 'power', label: 'Power', teams: ['Rowing'], measures: [] },
    ];
    const book = bookOf(
      Object.fromEntries(Array.from({ length: 60 }, (_, at) => [id(at), { team: at < 30 ? 'Rowing' : 'Fencing' }])),
    );
    const rows = people([...spread(29), 150, ...spread(30).map((value) => 100 + 3 * (value - 100))]);
    const { list, tallies } = found(rows, [MASS], book, groups);
    // The groin group is wider spread: there the same athlete stands out less.
    expect(list).toMatchObject([{ who: 'A029 2026 mass none', group: 'power', among: 30 }]);
    // Worked out by hand: 60·p(60) + 30·p(30), p(60) = .0022·(.0011/.0022)^(ln(60/50)/ln 2).
    const expected = 60 * 0.0022 * 0.5 ** (Math.log(60 / 50) / Math.LN2) + 30 * 0.0039;
    expect(tallies).toMatchObject([{ season: 2026, measure: 'mass', scores: 60 }]);
    expect(tallies[0].expected).toBeCloseTo(expected, 9);
  });

  test('athletes of no sport group stand together', () => {
    const groups = [{ name: 'groin', label: 'Groin', teams: ['Rowing'], measures: ['mass'] }];
    const book = bookOf(Object.fromEntries(Array.from({ length: 30 }, (_, at) => [id(at), { team: 'Chess' }])));
    expect(found(people([...spread(29), 150]), [MASS], book, groups).list).toMatchObject([{ group: '', among: 30 }]);
  });

  test('scores in levels and derived measures have none', () => {
    const parts: [Measure, Measure] = [MASS, MASS];
    const rows = people([...spread(29), 150]);
    expect(found(rows, [{ ...MASS, levels: [96, 150] }]).list).toEqual([]);
    expect(found(rows, [{ ...MASS, derivation: { operator: 'ratio', parts } }]).list).toEqual([]);
  });

  test('a retest is held against first tests and is no athlete more', () => {
    const rows = people(spread(20));
    const again = rows.map(
      (row): ResultGiven => ({ ...row, date: '2026-10-01', value: row.athlete_id === 'A004' ? 150 : 100 }),
    );
    const both = rows.flatMap((row, at) => [row, again[at]]);
    expect(found(both).list).toMatchObject([{ who: 'A004 2026 mass none', value: 150, among: 20 }]);
    expect(found(both.filter((row) => row.athlete_id !== 'A000')).list).toEqual([]);
  });

  describe('where more than half are alike', () => {
    const most = [...Array.from({ length: 20 }, () => 100), 99.5, 100.5, 101, 100.5];

    test('a score is off by more than three of the smallest steps', () => {
      // Steps of 0.5: 101.5 is three of them, 102 is four. Both are far beyond 3.5 by the mean distance.
      expect(found(people([...most, 101.5])).list).toEqual([]);
      expect(found(people([...most, 102])).list).toMatchObject([{ value: 102 }]);
      const [{ low, high }] = found(people([...most, 102])).outliers;
      expect([low, high]).toEqual([98.5, 101.5]);
    });

    test('or than the error, where one is known', () => {
      // Worked out by hand: 1.959963985 · 2 = 3.92.
      const known = { ...MASS, error: { sem: 2, basis: 'occasions' as const } };
      expect(found(people([...most, 103.9]), [known]).list).toEqual([]);
      expect(found(people([...most, 103.93]), [known]).list).toMatchObject([{ value: 103.93 }]);
      const inPercent = { ...MASS, error: { sem_pct: 2, basis: 'occasions' as const } };
      expect(found(people([...most, 103.9]), [inPercent]).list).toEqual([]);
    });

    test('and all alike have no outlier', () => {
      expect(found(people(Array.from({ length: 30 }, () => 100))).list).toEqual([]);
      expect(found(people(Array.from({ length: 30 }, () => 100))).tallies).toEqual([]);
    });
  });
});

interface Wanted {
  readonly flagged: readonly { readonly id: string; readonly value: number; readonly z: number }[];
}

// tests/reference/a1-survey: data `survey` of the R package MASS 7.3-58.2, outliers by R 4.2.2 with mad(constant = 1).
describe('237 students', () => {
  const reference = (name: string): string =>
    readFileSync(new URL(`../reference/a1-survey/${name}`, import.meta.url), 'utf8');
  const wanted = JSON.parse(reference('robust_outliers.json')) as {
    readonly all: Record<string, Wanted>;
    readonly by_sex: Record<string, Record<string, Wanted>>;
    readonly mixed_units: Wanted;
  };
  const students = Papa.parse<Record<string, string>>(reference('people.csv'), {
    header: true,
    skipEmptyLines: true,
  }).data;
  const COLUMNS: Record<string, string> = {
    deficit: 'deficit_pct',
    span_writing: 'span_writing_cm',
    pulse: 'pulse_bpm',
    age: 'age_y',
    height: 'height_cm',
    height_as_given: 'height_as_given',
  };

  function outliersOf(column: string, book = NOBODY): { id: string; value: number; z: number }[] {
    const measured = students.filter((student) => student[COLUMNS[column]] !== '');
    const results = resultsOf(
      measured.map((student) => ({ athlete_id: student.id, measure: 'mass', value: Number(student[COLUMNS[column]]) })),
    );
    const { outliers } = robustOutliers(results, book, protocolOf({ measures: [MASS] }));
    return outliers.map(({ row, value, z }) => ({ id: results.columns.athlete_id.get(row)!, value, z }));
  }

  function expectAgreement(got: readonly { id: string; value: number; z: number }[], want: Wanted['flagged']): void {
    expect(got.map((one) => [one.id, one.value])).toEqual(want.map((one) => [one.id, one.value]));
    for (const [at, { z }] of want.entries())
      expect(Math.abs(got[at].z - z)).toBeLessThanOrEqual(1e-9 * Math.abs(z) + 1e-10);
  }

  test.each(Object.keys(wanted.all))('%s of all', (column) => {
    expectAgreement(outliersOf(column), wanted.all[column].flagged);
  });

  test('heights in centimetres and in inches under one heading', () => {
    expect(wanted.mixed_units.flagged).toHaveLength(68);
    expectAgreement(outliersOf('height_as_given'), wanted.mixed_units.flagged);
  });

  test.each(Object.keys(wanted.by_sex.Female))('%s within each sex', (column) => {
    const book = bookOf(Object.fromEntries(students.map(({ id: own, sex }) => [own, sex === '' ? {} : { sex }])));
    const both = [...wanted.by_sex.Female[column].flagged, ...wanted.by_sex.Male[column].flagged];
    expectAgreement(
      outliersOf(column, book),
      both.toSorted((a, b) => (a.id < b.id ? -1 : 1)),
    );
  });
});
