import { expect, test } from 'vitest';
import type { HistoryRow } from '../../src/outcomes/history.ts';
import type { InjuryRow } from '../../src/outcomes/injury_log.ts';
import { NO_PAST, pastInjuries } from '../../src/outcomes/past.ts';
import { day } from '../athletes/side_files.ts';

const injury = (given: Partial<InjuryRow>): InjuryRow => ({
  line: 2,
  athleteId: 'K001',
  day: day('2025-10-14'),
  region: 'groin',
  side: 'left',
  daysLost: 38,
  type: 'strain',
  contact: '',
  setting: '',
  recurrent: null,
  team: '',
  ...given,
});
const earlier: HistoryRow = {
  athleteId: 'K001',
  region: ' Groin ',
  side: 'right',
  day: null,
  surgery: false,
  fullReturn: null,
};

test('injuries of the log and of the history, by region, before a day', () => {
  const past = pastInjuries([injury({}), injury({ region: 'knee' }), injury({ athleteId: 'K002' })], [earlier]);
  expect(past.of('K001', 'GROIN', day('2026-08-17')).map(({ side }) => side)).toEqual(['left', 'right']);
  expect(past.of('K003', 'groin', day('2026-08-17'))).toEqual([]);
  expect(past.of('K001', 'ankle', day('2026-08-17'))).toEqual([]);
});

test('an injury of the test day or later does not count; one without a day counts for every day', () => {
  const past = pastInjuries([injury({})], [earlier]);
  expect(past.of('K001', 'groin', day('2025-10-15'))).toHaveLength(2);
  expect(past.of('K001', 'groin', day('2025-10-14'))).toEqual([{ region: ' Groin ', side: 'right', day: null }]);
});

test('an injury without a region is one of none', () => {
  expect(pastInjuries([injury({ region: '' })], [])).toBe(NO_PAST);
});
