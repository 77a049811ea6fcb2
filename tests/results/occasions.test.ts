import { describe, expect, it } from 'vitest';
import { parseIsoDay } from '../../src/units/days.ts';
import { derived, type Reading } from './build.ts';

const MEASURES = `measures:
  grip: {label: Grip, unit: kgf, sides: each}
  height: {label: Height, unit: cm, sides: none}
  pulse: {label: Pulse, unit: /min, sides: none}
`;

const height = (date: string, rest: Partial<Reading> = {}): Reading => ({
  measure: 'height',
  date,
  value: 180,
  ...rest,
});
const pulse = (date: string, rest: Partial<Reading> = {}): Reading => ({ measure: 'pulse', date, value: 60, ...rest });
const grip = (date: string, side: string, rest: Partial<Reading> = {}): Reading => ({
  measure: 'grip',
  date,
  side,
  value: 40,
  ...rest,
});

/** Results as "date measure" (and value where it tells something). */
async function visits(readings: readonly Reading[], injuries: readonly string[] = []): Promise<string[]> {
  const days = injuries.map((date) => parseIsoDay(date)!);
  const rows = await derived(MEASURES, readings, {}, { injuryDays: new Map([['K001', days]]) });
  return rows.map(({ date, measure, left, right, value }) => {
    const numbers = [left, right, value].filter((number) => number !== null);
    return `${date} ${measure} ${numbers.join('/')}`;
  });
}

const CASES: { name: string; readings: Reading[]; injuries?: string[]; visits: string[] }[] = [
  {
    name: 'stations on different days are one occasion, dated by its first day',
    readings: [pulse('2026-08-14'), height('2026-08-12')],
    visits: ['2026-08-12 height 180', '2026-08-12 pulse 60'],
  },
  {
    name: 'a day 14 days after the first belongs to it',
    readings: [height('2026-08-12'), pulse('2026-08-26')],
    visits: ['2026-08-12 height 180', '2026-08-12 pulse 60'],
  },
  {
    name: 'a day 15 days after the first does not',
    readings: [height('2026-08-12'), pulse('2026-08-27')],
    visits: ['2026-08-12 height 180', '2026-08-27 pulse 60'],
  },
  {
    name: 'the same measure on a later day starts a new one: a retest is never pooled with the test',
    readings: [height('2026-08-12'), height('2026-08-13', { value: 181 })],
    visits: ['2026-08-12 height 180', '2026-08-13 height 181'],
  },
  {
    name: 'the other side on a later day completes the measure',
    readings: [grip('2026-08-12', 'left'), grip('2026-08-13', 'right', { value: 41 })],
    visits: ['2026-08-12 grip 40/41'],
  },
  {
    name: 'a make-up joins the occasion although it is 20 days later',
    readings: [height('2026-08-12'), pulse('2026-09-01', { purpose: 'makeup' })],
    visits: ['2026-08-12 height 180', '2026-08-12 pulse 60'],
  },
  {
    name: 'a make-up joins although the measure was read before, and the best of both counts',
    readings: [height('2026-08-12'), height('2026-08-13', { value: 182, purpose: 'makeup' })],
    visits: ['2026-08-12 height 182'],
  },
  {
    name: 'a make-up of another season has no occasion to join',
    readings: [height('2026-06-28'), pulse('2026-07-02', { purpose: 'makeup' })],
    visits: ['2026-06-28 height 180', '2026-07-02 pulse 60'],
  },
  {
    name: 'a retest of another day is an occasion of its own',
    readings: [height('2026-08-12'), pulse('2026-08-14', { purpose: 'retest' })],
    visits: ['2026-08-12 height 180', '2026-08-14 pulse 60'],
  },
  {
    name: 'a retest leaves the test open for the stations that are still to come',
    readings: [height('2026-08-12'), height('2026-08-13', { value: 181, purpose: 'retest' }), pulse('2026-08-14')],
    visits: ['2026-08-12 height 180', '2026-08-12 pulse 60', '2026-08-13 height 181'],
  },
  {
    name: 'a retest of the same day is not pooled with the test',
    readings: [height('2026-08-12'), height('2026-08-12', { value: 182, purpose: 'retest' })],
    visits: ['2026-08-12 height 180', '2026-08-12 height 182'],
  },
  {
    name: 'a retest of one side is not pooled with a test of the other on the same day',
    readings: [grip('2026-08-12', 'left'), grip('2026-08-12', 'right', { value: 41, purpose: 'retest' })],
    visits: ['2026-08-12 grip 40', '2026-08-12 grip 41'],
  },
  {
    // In one occasion height comes first, as in the protocol; in two the test would.
    name: 'a retest of something else joins the test of its day',
    readings: [pulse('2026-08-12'), height('2026-08-12', { purpose: 'retest' })],
    visits: ['2026-08-12 height 180', '2026-08-12 pulse 60'],
  },
  {
    name: 'a retest over two days is one occasion',
    readings: [
      pulse('2026-08-12'),
      pulse('2026-10-01', { value: 61, purpose: 'retest' }),
      height('2026-10-02', { purpose: 'retest' }),
    ],
    visits: ['2026-08-12 pulse 60', '2026-10-01 height 180', '2026-10-01 pulse 61'],
  },
  {
    name: 'a make-up joins the test, not the retest that came between',
    readings: [
      height('2026-08-12'),
      height('2026-10-01', { value: 182, purpose: 'retest' }),
      pulse('2026-11-20', { purpose: 'makeup' }),
    ],
    visits: ['2026-08-12 height 180', '2026-08-12 pulse 60', '2026-10-01 height 182'],
  },
  {
    name: 'sheets of one day that state two seasons are two occasions',
    readings: [pulse('2026-08-12'), height('2026-08-12', { season: 2025 })],
    visits: ['2026-08-12 height 180', '2026-08-12 pulse 60'],
  },
  {
    name: 'an injury in between starts a new one',
    readings: [height('2026-08-12'), pulse('2026-08-15')],
    injuries: ['2026-08-13'],
    visits: ['2026-08-12 height 180', '2026-08-15 pulse 60'],
  },
  {
    name: 'an injury on the later test day starts a new one',
    readings: [height('2026-08-12'), pulse('2026-08-15')],
    injuries: ['2026-08-15'],
    visits: ['2026-08-12 height 180', '2026-08-15 pulse 60'],
  },
  {
    name: 'an injury on or before the first day parts nothing',
    readings: [height('2026-08-12'), pulse('2026-08-15')],
    injuries: ['2026-08-01', '2026-08-12'],
    visits: ['2026-08-12 height 180', '2026-08-12 pulse 60'],
  },
  {
    name: 'a season boundary parts two neighbouring days',
    readings: [height('2026-06-30'), pulse('2026-07-01')],
    visits: ['2026-06-30 height 180', '2026-07-01 pulse 60'],
  },
  {
    name: 'not tested first and measured later is one test',
    readings: [height('2026-08-12', { value: undefined }), pulse('2026-08-12'), height('2026-08-14')],
    visits: ['2026-08-12 height 180', '2026-08-12 pulse 60'],
  },
  {
    name: 'unable first and measured later is two',
    readings: [height('2026-08-12', { value: undefined, status: 'unable' }), height('2026-08-14')],
    visits: ['2026-08-12 height ', '2026-08-14 height 180'],
  },
];

describe('which days make an occasion', () => {
  it.each(CASES)('$name', async ({ readings, injuries, visits: wanted }) => {
    expect(await visits(readings, injuries)).toEqual(wanted);
    expect(await visits([...readings].reverse(), injuries)).toEqual(wanted);
  });
});
