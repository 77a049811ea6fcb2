import { describe, expect, test } from 'vitest';
import type { AthleteBook } from '../../src/athletes/book.ts';
import { type Apart, readApart } from '../../src/findings/outliers/apart.ts';
import { apartSuggestion } from '../../src/findings/outliers/wording.ts';
import type { Readings } from '../../src/findings/suspects/readings.ts';
import { derive } from '../../src/results/derive.ts';
import { seededDraw } from '../../src/stats/random.ts';
import { measureOf, NOBODY, protocolOf } from './build.ts';
import { type ObservationGiven, observationsOf, readingsOf } from './readings_of.ts';

const HIP = measureOf('hip', { error: { sem_pct: 3, basis: 'occasions' } });
const MASS = measureOf('mass', { sides: 'none', error: { sem: 0.5, basis: 'occasions' } });
const PROTOCOL = protocolOf({ measures: [HIP, MASS] });

interface Given {
  readonly rows: readonly ObservationGiven[];
  readonly book?: AthleteBook;
}

async function apartOf({
  rows,
  book = NOBODY,
}: Given): Promise<{ apart: Apart[]; readings: Readings; comparisons: number }> {
  const results = await derive([observationsOf(rows)], book, PROTOCOL, { occasionDays: 14 });
  const readings = readingsOf(PROTOCOL, rows);
  const { apart, tallies } = readApart(results, book, readings);
  return { apart, readings, comparisons: tallies.reduce((sum, tally) => sum + tally.comparisons, 0) };
}

/** Athletes who differ by some 20 % and read within 3 % of themselves, each with a tester by number. */
function athletes(count: number, seed: number): { id: string; size: number; noise: () => number; at: number }[] {
  const draw = seededDraw(seed);
  // The sum of twelve is near enough to normal.
  const normal = (): number => Array.from({ length: 12 }, () => draw(1e6) / 1e6).reduce((sum, one) => sum + one, -6);
  return Array.from({ length: count }, (_, at) => ({
    id: `A${String(at).padStart(3, '0')}`,
    size: 200 * Math.exp(0.2 * normal()),
    noise: () => Math.exp(0.03 * normal()),
    at,
  }));
}

const hip = (
  athlete: ReturnType<typeof athletes>[number],
  given: Partial<ObservationGiven>,
  factor = 1,
): ObservationGiven[] =>
  ['left', 'right'].map((side) => ({
    athlete_id: athlete.id,
    measure: 'hip',
    side,
    value: athlete.size * athlete.noise() * factor,
    ...given,
  }));

const briefly = ({ apart, readings }: Awaited<ReturnType<typeof apartOf>>): string[] =>
  apart.map(
    (one) =>
      `${one.source} ${(one.source === 'tester' ? readings.testers : readings.devices).get(one.code)} ${one.measure.name} ${one.season} ${one.against}`,
  );

describe('testers who read apart', () => {
  test('8 % are found by the changes of athletes, not by their scores', async () => {
    const rows = athletes(60, 1).flatMap((athlete) => {
      const tester = athlete.at % 2 === 0 ? 'Vale' : 'Orrin';
      return [
        ...hip(athlete, { season: 2025, date: '2025-08-12' }),
        ...hip(athlete, { tester }, tester === 'Vale' ? 0.92 : 1),
      ];
    });
    const found = await apartOf({ rows });
    expect(briefly(found)).toEqual(['tester Vale hip 2026 own_earlier']);
    const [vale] = found.apart;
    expect(vale).toMatchObject({ athletes: 30, others: 30, isPercent: true, changes: undefined });
    expect(vale.difference).toBeLessThan(-5);
    expect(vale.difference).toBeGreaterThan(-11);
    expect([vale.low < -8, vale.high > -8, vale.high < 0]).toEqual([true, true, true]);
    expect(vale.expected).toBeGreaterThanOrEqual(3);
    // By changes and by scores.
    expect(found.comparisons).toBe(2);
    const text = apartSuggestion(vale, found.readings);
    expect(text).toMatch(
      /^Tester Vale reads \d+(\.\d)? % below Orrin \(95 % interval \d+(\.\d+)? to \d+(\.\d)? %\), 30 athletes against 30, going by the change of each athlete since an earlier season\. Which of the two is right is not known\. /,
    );
  });

  test('who reads alike is not listed', async () => {
    const rows = athletes(80, 2).flatMap((athlete) => [
      ...hip(athlete, { season: 2025, date: '2025-08-12' }),
      ...hip(athlete, { tester: ['Vale', 'Orrin', 'Sorb', 'Tarn'][athlete.at % 4] }),
    ]);
    const { apart, comparisons } = await apartOf({ rows });
    expect(apart).toEqual([]);
    // Each of four against the others, by changes and by scores.
    expect(comparisons).toBe(8);
  });

  test('one of three is held against both others', async () => {
    const rows = athletes(90, 3).flatMap((athlete) => {
      const tester = ['Vale', 'Orrin', 'Sorb'][athlete.at % 3];
      return [
        ...hip(athlete, { season: 2025, date: '2025-08-12' }),
        ...hip(athlete, { tester }, tester === 'Sorb' ? 1.25 : 1),
      ];
    });
    const found = await apartOf({ rows });
    const [sorb] = found.apart.filter(({ code }) => found.readings.testers.get(code) === 'Sorb');
    expect(sorb).toMatchObject({ athletes: 30, others: 60, onlyOther: undefined });
    expect(apartSuggestion(sorb, found.readings)).toMatch(/^Tester Sorb reads \d+ % above the others /);
  });

  test('with nothing of earlier seasons a large difference is found by scores, and told so', async () => {
    const rows = athletes(120, 4).flatMap((athlete) => {
      const device = athlete.at % 2 === 0 ? 'spare' : 'usual';
      return hip(athlete, { device }, device === 'spare' ? 1.3 : 1);
    });
    const found = await apartOf({ rows });
    expect(briefly(found)).toEqual(['device spare hip 2026 peers']);
    expect(apartSuggestion(found.apart[0], found.readings)).toContain(
      ', 60 athletes against 60, alike in sex and sport groups. ',
    );
  });

  test('a difference of scores that the changes do not bear out says so', async () => {
    const rows = athletes(120, 5).flatMap((athlete) => {
      const tester = athlete.at % 2 === 0 ? 'Vale' : 'Orrin';
      const factor = tester === 'Vale' ? 1.4 : 1;
      return [...hip(athlete, { season: 2025, date: '2025-08-12' }, factor), ...hip(athlete, { tester }, factor)];
    });
    const found = await apartOf({ rows });
    expect(briefly(found)).toEqual(['tester Vale hip 2026 peers']);
    expect(apartSuggestion(found.apart[0], found.readings)).toMatch(
      /By the change of each athlete since an earlier season it is -?\d/,
    );
  });

  test('ten athletes of each are needed, and one tester for both sides', async () => {
    const of = (vales: number) =>
      athletes(40, 6).flatMap((athlete) =>
        hip(athlete, { tester: athlete.at < vales ? 'Vale' : 'Orrin' }, athlete.at < vales ? 2 : 1),
      );
    expect((await apartOf({ rows: of(9) })).comparisons).toBe(0);
    expect(briefly(await apartOf({ rows: of(10) }))).toEqual(['tester Vale hip 2026 peers']);
    const parted = athletes(40, 6).flatMap((athlete) =>
      hip(athlete, {}).map((row) => ({ ...row, tester: row.side === 'left' ? 'Vale' : 'Orrin' })),
    );
    expect((await apartOf({ rows: parted })).comparisons).toBe(0);
  });

  test('a tester of the men is not compared with the tester of the women', async () => {
    const everybody = athletes(60, 7);
    const book: AthleteBook = {
      find: (id) => ({ team: null, sex: Number(id.slice(1)) < 30 ? 'F' : 'M', dominance: [] }),
    };
    const rows = everybody.flatMap((athlete) =>
      hip(athlete, { tester: athlete.at < 30 ? 'Vale' : 'Orrin' }, athlete.at < 30 ? 1 : 1.6),
    );
    expect((await apartOf({ rows, book })).comparisons).toBe(0);
    expect(briefly(await apartOf({ rows }))).toEqual(['tester Vale hip 2026 peers']);
  });

  test('a difference within the measurement error is not listed, however sure', async () => {
    const rows = (shift: number): ObservationGiven[] =>
      Array.from({ length: 60 }, (_, at) => ({
        athlete_id: `A${String(at).padStart(3, '0')}`,
        measure: 'mass',
        tester: at % 2 === 0 ? 'Vale' : 'Orrin',
        value: 70 + (at % 3) * 0.1 + (at % 2 === 0 ? shift : 0),
      }));
    expect((await apartOf({ rows: rows(0.4) })).apart).toEqual([]);
    const [found] = (await apartOf({ rows: rows(1) })).apart;
    // Worked out by hand: 30 athletes each, the same three readings in both, one kilogram apart.
    expect(found).toMatchObject({ isPercent: false, athletes: 30, others: 30 });
    expect(found.difference).toBeCloseTo(1, 9);
    expect(found.expected).toBeCloseTo(0.5, 9);
  });
});
