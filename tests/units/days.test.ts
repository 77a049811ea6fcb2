import { describe, expect, it } from 'vitest';
import { dayOf, isoDay, parseIsoDay, seasonOf } from '../../src/units/days.ts';

describe('days', () => {
  it('count from 1970-01-01', () => {
    expect(dayOf(1970, 1, 1)).toBe(0);
    expect(parseIsoDay('1970-01-02')).toBe(1);
    expect(isoDay(-1)).toBe('1969-12-31');
  });

  it.each(['2026-02-29', '2026-13-01', '2026-8-1', '2026-08-12T09:30', ''])('%s is no ISO day', (text) => {
    expect(parseIsoDay(text)).toBeUndefined();
  });
});

// The season is the year in which it starts.
it.each([
  ['2026-08-12', '07-01', 2026],
  ['2027-03-02', '07-01', 2026],
  ['2026-07-01', '07-01', 2026],
  ['2026-06-30', '07-01', 2025],
  ['2026-01-01', '01-01', 2026],
])('%s with seasons from %s is of %d', (date, starts, season) => {
  expect(seasonOf(parseIsoDay(date)!, starts)).toBe(season);
});
