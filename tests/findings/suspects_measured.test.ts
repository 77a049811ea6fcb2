import { describe, expect, it } from 'vitest';
import { measureClean, measurePlanter, PLANTERS } from '../bench/suspects/measure.ts';

// The small version of npm run bench:suspects: the same seeded program with fewer athletes and fewer slips. The floors lie
// a little below what it finds, so that a change which finds less is seen.
const SEED = 404;
const PER_SEASON = 220;

/** Least share found, and least share told under its own kind, in percent. */
const FLOORS: Readonly<Record<string, readonly [number, number]>> = {
  'unit slip, one reading': [97, 90],
  'unit slip, all attempts of an athlete': [95, 95],
  'unit slip, whole columns': [95, 95],
  'sides identical': [97, 97],
  'columns swapped, one row': [83, 83],
  'columns swapped, whole sheet': [100, 100],
  'sides swapped, one tester': [100, 100],
  'sides swapped, one athlete': [85, 85],
  'one attempt apart': [93, 75],
  'row copied to the next athlete': [97, 97],
  'row pasted again': [97, 97],
  'digit dropped, doubled, turned': [78, 50],
  'cells pulled down': [95, 95],
  'column sorted': [85, 85],
};
/** Of a reading that changed by more than 40 % nearly every slip is found, whatever it is. */
const LARGE = 92;
/** Percent of clean readings that may be called suspect; the aim is 1. */
const MOST_FALSE = 0.25;

const percent = (part: number, whole: number): number => (100 * part) / whole;

describe('entry suspects, measured', () => {
  it('call hardly a clean reading suspect', async () => {
    const { outcome, athletes } = await measureClean(SEED, 600);
    expect(athletes).toBeGreaterThanOrEqual(600);
    expect(percent(outcome.falseAlarms, outcome.readings)).toBeLessThan(MOST_FALSE);
  });

  it('have a floor for everything that is planted', () => {
    expect(Object.keys(FLOORS)).toEqual(PLANTERS.map(({ name }) => name));
  });

  it.each(PLANTERS.map((planter) => [planter.name, planter] as const))('%s', async (name, planter) => {
    const outcome = await measurePlanter(planter, SEED, PER_SEASON, planter.perCollege < 50 ? 4 : 60);
    const [found, asSuch] = FLOORS[name];
    expect(percent(outcome.found, outcome.planted)).toBeGreaterThanOrEqual(found);
    expect(percent(outcome.foundAsSuch, outcome.planted)).toBeGreaterThanOrEqual(asSuch);
    const large = outcome.bySize[outcome.bySize.length - 1];
    if (large.planted > 0) expect(percent(large.found, large.planted)).toBeGreaterThanOrEqual(LARGE);
    expect(percent(outcome.falseAlarms, outcome.readings)).toBeLessThan(MOST_FALSE);
  });
});
