import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Rechecked, recheck } from '../../src/findings/recheck.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { derive } from '../../src/results/derive.ts';
import type { RECHECK } from '../../src/tables/schemas.ts';
import type { RowOf } from '../../src/tables/table.ts';
import { SEEDED } from '../seeded.ts';
import { bookOf, measureOf, protocolOf } from './build.ts';
import { type ObservationGiven, observationsOf, readingsOf } from './readings_of.ts';

const KEPT = (keep: 'best' | 'mean'): Protocol =>
  protocolOf({
    measures: [
      measureOf('jump', {
        sides: 'none',
        trials: { keep, expect: 2 },
        unit: { code: 'cm', factor: 0.01, dimension: 'length' },
      }),
      measureOf('hip'),
    ],
  });

async function rechecked(
  rows: readonly ObservationGiven[],
  { keep = 'best' as 'best' | 'mean', confirmed = [] as string[], book = bookOf({}) } = {},
): Promise<Rechecked & { rows: RowOf<typeof RECHECK>[] }> {
  const protocol = KEPT(keep);
  const results = await derive([observationsOf(rows)], book, protocol, { occasionDays: 14 });
  const readings = readingsOf(protocol, rows);
  const found = recheck({ readings, rejects: undefined, results, book, protocol, confirmed: new Set(confirmed) });
  return { ...found, rows: [...found.table.rows()] };
}

/** Jumps of 30 athletes around 40 cm in steps of their own, two attempts each, the better one second. */
const jumps = (given: Partial<ObservationGiven> = {}): ObservationGiven[] =>
  Array.from({ length: 30 }, (_, at) =>
    [1, 2].map((trial) => ({
      athlete_id: `A${String(at).padStart(2, '0')}`,
      team: 'Rowing',
      measure: 'jump',
      trial,
      value: 40 + ((at * 7) % 13) - 6 + trial * 0.4,
      station: 'Jumps',
      line: at + 2,
      column: trial + 2,
      ...given,
    })),
  ).flat();

/** The same with one athlete far above the others, whom no slip explains. */
function withOne(value: number, given: Partial<ObservationGiven> = {}): ObservationGiven[] {
  const rows = jumps(given);
  rows[20] = { ...rows[20], value: value - 1 };
  rows[21] = { ...rows[21], value };
  return rows;
}

const outliers = ({ rows }: { rows: RowOf<typeof RECHECK>[] }) => rows.filter(({ kind }) => kind === 'outlier');

describe('the recheck list', () => {
  test('an outlier stands where its reading does', async () => {
    const found = await rechecked(withOne(68.3));
    // Worked out with statistics.median of Python 3.11: median 41.3, MAD 3.5.
    expect(outliers(found)).toEqual([
      {
        athlete_id: 'A10',
        team: 'Rowing',
        season: 2026,
        date: '2026-08-12',
        measure: 'jump',
        side: 'none',
        trial: 2,
        value: 68.3,
        unit: 'cm',
        kind: 'outlier',
        score: expect.closeTo((0.6745 * (68.3 - 41.3)) / 3.5, 9),
        low: expect.closeTo(41.3 - (3.5 * 3.5) / 0.6745, 8),
        high: expect.closeTo(41.3 + (3.5 * 3.5) / 0.6745, 8),
        suggestion:
          'Far from the others: robust z 5.2 among 30 athletes. Real or typed wrongly: look at the paper, and test again while the athlete is here.',
        file: 'sheets/a.csv',
        line: 12,
        column: 4,
      },
    ]);
    expect(found.table.columns.station.get(found.rows.findIndex(({ kind }) => kind === 'outlier'))).toBe('Jumps');
  });

  test('the mean of several attempts stands at the nearest of them and names no trial', async () => {
    const [row] = outliers(await rechecked(withOne(68.3), { keep: 'mean' }));
    expect(row).toMatchObject({ athlete_id: 'A10', trial: null, value: 67.8, line: 12 });
    expect(row.suggestion).toContain('It is the mean of several attempts; the nearest one stands here.');
  });

  test('what corrections confirm is not listed again', async () => {
    expect(outliers(await rechecked(withOne(68.3), { confirmed: ['sheets/a.csv\n12\n4'] }))).toEqual([]);
    expect(outliers(await rechecked(withOne(68.3), { confirmed: ['sheets/a.csv\n12\n3'] }))).toHaveLength(1);
  });

  test('a retest of the season stands at the retest', async () => {
    const again = jumps({ date: '2026-10-20', purpose: 'retest', file: 'sheets/b.csv' }).slice(0, 4);
    const rows = [...jumps(), again[0], { ...again[1], value: 68.3 }, ...again.slice(2)];
    expect(outliers(await rechecked(rows))).toMatchObject([
      { athlete_id: 'A00', date: '2026-10-20', file: 'sheets/b.csv', line: 2, column: 4 },
    ]);
  });

  test('says of each measure how much was looked at, and where', async () => {
    const { tallies } = await rechecked([...jumps(), ...jumps({ season: 2025, date: '2025-08-12', station: null })]);
    // Thirty athletes: .0039 of them by chance.
    expect(tallies).toEqual([
      { season: 2025, measure: 'jump', stations: [], scores: 30, expected: expect.closeTo(0.117, 9), comparisons: 0 },
      {
        season: 2026,
        measure: 'jump',
        stations: ['Jumps'],
        scores: 30,
        expected: expect.closeTo(0.117, 9),
        comparisons: 0,
      },
    ]);
  });

  test('a tester who reads apart has a row of its own, at the sheet if it is one', async () => {
    const byTester = (file: (at: number) => string): ObservationGiven[] =>
      jumps().map((row, at) => {
        const isVale = Math.floor(at / 2) % 2 === 0;
        return { ...row, value: row.value! + (isVale ? 12 : 0), tester: isVale ? 'Vale' : 'Orrin', file: file(at) };
      });
    const own = (rows: RowOf<typeof RECHECK>[]) =>
      rows.filter(({ athlete_id, kind }) => kind === 'outlier' && athlete_id === null);
    // Worked out with statistics.median of Python 3.11: the medians of the two are 10 apart.
    const [row] = own((await rechecked(byTester(() => 'sheets/a.csv'))).rows);
    expect(row).toMatchObject({
      season: 2026,
      measure: 'jump',
      side: null,
      date: null,
      unit: 'cm',
      file: 'sheets/a.csv',
      line: null,
      column: null,
    });
    expect(row.value).toBeGreaterThan(row.high!);
    expect(row.low).toBe(-row.high!);
    expect(row.suggestion).toMatch(/^Tester Vale reads 10 cm above Orrin \(95 % interval /);
    const { rows } = await rechecked(byTester((at) => (at < 30 ? 'sheets/a.csv' : 'sheets/b.csv')));
    expect(own(rows)).toMatchObject([{ file: null }]);
    expect(rows.at(-1)).toMatchObject({ file: null, kind: 'outlier' });
  });

  test('no number is anything but finite, rows stand in order, and the order of the sheets changes nothing', async () => {
    const reading = fc.record({
      athlete_id: fc.integer({ min: 0, max: 24 }).map((at) => `A${at}`),
      measure: fc.constantFrom('jump', 'hip'),
      value: fc.oneof(fc.integer({ min: 0, max: 9 }), fc.integer({ min: 30, max: 50 }), fc.constant(400)),
      side: fc.constantFrom('left', 'right'),
      tester: fc.constantFrom('Vale', 'Orrin', null),
      line: fc.integer({ min: 2, max: 300 }),
      date: fc.constantFrom('2026-08-12', '2026-08-13', '2026-10-20'),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(reading, { minLength: 1, maxLength: 160 }), async (rows) => {
        const found = await rechecked(rows);
        for (const row of found.rows) {
          for (const cell of Object.values(row)) if (typeof cell === 'number') expect(Number.isFinite(cell)).toBe(true);
          if (row.kind === 'outlier') expect(row.value! < row.low! || row.value! > row.high!).toBe(true);
        }
        const places = found.rows.map(({ file, line }) => (file === null ? Number.POSITIVE_INFINITY : (line ?? 0)));
        expect(places).toEqual(places.toSorted((a, b) => a - b));
        for (const { scores, expected, comparisons } of found.tallies) {
          expect(scores + comparisons).toBeGreaterThan(0);
          expect(expected).toBeLessThanOrEqual(scores);
        }
      }),
      { ...SEEDED, numRuns: 60 },
    );
  });
});
