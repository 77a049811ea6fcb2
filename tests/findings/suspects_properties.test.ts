import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeCollege } from '../bench/suspects/college.ts';
import { check } from '../bench/suspects/read.ts';
import { SEEDED } from '../seeded.ts';

const cell = fc.oneof(
  fc.double({ min: -50, max: 2500, noNaN: true }).map((number) => String(Math.round(number * 10) / 10)),
  fc.constantFrom('', 'NT', '0', '32 P', 'pain', '1433', '2.54', '-99'),
);

/** What a hand could do to small sheets: how many athletes, and which cells stand for which. */
const hands = fc.record({
  seed: fc.integer({ min: 1, max: 50 }),
  athletes: fc.integer({ min: 1, max: 14 }),
  cells: fc.array(fc.tuple(fc.nat(11), fc.nat(13), fc.integer({ min: 3, max: 12 }), cell), { maxLength: 60 }),
  repeated: fc.array(fc.tuple(fc.nat(11), fc.nat(13)), { maxLength: 4 }),
});

describe('entry suspects of any sheets', () => {
  it('speak of readings that are there, of each in one line at most, in numbers that are numbers or not known', async () => {
    await fc.assert(
      fc.asyncProperty(hands, async ({ seed, athletes, cells, repeated }) => {
        const college = makeCollege(seed, athletes);
        for (const [sheet, row, column, text] of cells) {
          const { rows } = college.sheets[sheet];
          if (rows[row]?.[column] !== undefined) rows[row][column] = text;
        }
        for (const [sheet, row] of repeated) {
          const { rows } = college.sheets[sheet];
          if (rows[row] !== undefined) rows.push([...rows[row]]);
        }
        const { suspects, readings, rejects } = await check(college);
        const told = new Set<number>();
        for (const { at, reject, covers, extent, low, high, score, suggestion } of suspects) {
          expect(at >= 0 || reject >= 0).toBe(true);
          expect(at < readings.length && reject < rejects.length).toBe(true);
          if (at >= 0) expect(covers).toContain(at);
          for (const number of [low, high, score]) expect(Math.abs(number)).not.toBe(Number.POSITIVE_INFINITY);
          if (!Number.isNaN(low)) expect(high).toBeGreaterThanOrEqual(low);
          expect(suggestion).toMatch(/^[A-Z\d].*[.…)]$/s);
          expect(suggestion).not.toMatch(/NaN|undefined|Infinity|null/);
          if (extent !== 'reading') continue;
          for (const row of covers) {
            expect(told.has(row)).toBe(false);
            told.add(row);
          }
        }
      }),
      { ...SEEDED, numRuns: 40 },
    );
  });
});
