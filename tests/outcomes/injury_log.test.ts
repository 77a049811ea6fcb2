import { describe, expect, test } from 'vitest';
import { injuryDays } from '../../src/outcomes/injuries.ts';
import { readInjuryLog } from '../../src/outcomes/injury_log.ts';
import { Failure } from '../../src/problems/failure.ts';
import { DIRECTORY, day, holdsForAnyText, spec, standsLongCells, told } from '../athletes/side_files.ts';

const HEADER = 'athlete_id,date,region,side,days_lost,type,contact,setting,recurrent,team';
const SPEC = spec('injuries.csv');
const ALIASES = new Map([['w. rowing', 'Rowing']]);
const read = (lines: readonly string[], header = HEADER) =>
  readInjuryLog([header, ...lines].join('\n'), SPEC, DIRECTORY, ALIASES);

test('rows as they are written', () => {
  const { rows, warnings } = read([
    'K001,2026-09-03,knee,L,21,sprain,non-contact,practice,no,W. Rowing',
    '"Ash, Ivy",14/8/2026,Groin,bilateral,0,strain,,game,Recurrent,Water polo',
    'k 1,3 Oct 2026,,,,,,,,',
  ]);
  expect(warnings).toEqual([]);
  expect(rows).toEqual([
    {
      line: 2,
      athleteId: 'K001',
      day: day('2026-09-03'),
      region: 'knee',
      side: 'left',
      daysLost: 21,
      type: 'sprain',
      contact: 'non-contact',
      setting: 'practice',
      recurrent: false,
      team: 'Rowing',
    },
    {
      line: 3,
      athleteId: 'K103',
      day: day('2026-08-14'),
      region: 'Groin',
      side: 'both',
      daysLost: 0,
      type: 'strain',
      contact: '',
      setting: 'game',
      recurrent: true,
      team: 'Water polo',
    },
    {
      line: 4,
      athleteId: 'K001',
      day: day('2026-10-03'),
      region: '',
      side: null,
      daysLost: null,
      type: '',
      contact: '',
      setting: '',
      recurrent: null,
      team: '',
    },
  ]);
});

test.each([
  ['', null],
  ['-', null],
  ['n/a', null],
  ['-1', null],
  ['−9', null],
  ['0', 0],
  ['1.5', 1.5],
  [' 28 ', 28],
])('days_lost "%s" is %s, and no fault', (cell, daysLost) => {
  const { rows, warnings } = read([`K001,2026-09-03,knee,left,${cell},,,,,`]);
  expect([rows[0].daysLost, warnings]).toEqual([daysLost, []]);
});

test.each(['', 'n/a', 'N/A', 'none', '-', '?'])('side "%s" is unknown, and no fault', (cell) => {
  const { rows, warnings } = read([`K001,2026-09-03,head,${cell},,,,,,`]);
  expect([rows[0].side, warnings]).toEqual([null, []]);
});

describe('what is said of cells that cannot be read', () => {
  const UNDATED = 'The injury is kept without a day: it parts no test days, and no season counts it.';
  test.each([
    [
      'K109,2026-09-03,,,,,,,,',
      'injuries.csv:2:1: athlete_id "K109" is nobody on the roster The nearest: K103. The injury is left out.',
    ],
    ['Nobody Known,2026-09-03,,,,,,,,', 'injuries.csv:2:1: athlete_id is nobody on the roster The injury is left out.'],
    [
      'Bo Reed,2026-09-03,,,,,,,,',
      'injuries.csv:2:1: athlete_id fits more than one athlete of the roster It may be K001 or K002. The injury is left out.',
    ],
    [',2026-09-03,knee,,,,,,,', 'injuries.csv:2:1: athlete_id is not given The injury is left out.'],
    [
      'K001,3/4/2026,,,,,,,,',
      `injuries.csv:2:2: date "3/4/2026" is not a date that reads one way: write YYYY-MM-DD It may be 2026-04-03 or 2026-03-04. The dates of the column do not show whether day or month comes first; dates: is for sheets alone. ${UNDATED}`,
    ],
    [
      'K001,31/02/2026,,,,,,,,',
      `injuries.csv:2:2: date "31/02/2026" is not a date that reads one way: write YYYY-MM-DD ${UNDATED}`,
    ],
    ['K001,,knee,,,,,,,', `injuries.csv:2:2: date is not given: write YYYY-MM-DD ${UNDATED}`],
    [
      'K001,2026-09-03,,lfet,,,,,,',
      'injuries.csv:2:4: side "lfet" is none of left, right, both It is taken as unknown.',
    ],
    [
      'K001,2026-09-03,,,3 weeks,,,,,',
      'injuries.csv:2:5: days_lost "3 weeks" is not a plain number of days It is taken as unknown.',
    ],
    [
      'K001,2026-09-03,,,28+,,,,,',
      'injuries.csv:2:5: days_lost "28+" is not a plain number of days It is taken as unknown.',
    ],
    [
      'K001,2026-09-03,,,,,,,perhaps,',
      'injuries.csv:2:9: recurrent "perhaps" is neither yes nor no It is taken as unknown.',
    ],
  ])('%s', (line, message) => {
    expect(told(read([line]).warnings)).toEqual([message]);
  });

  test('all but the athlete leave the row in, with the cell unknown', () => {
    const { rows } = read(['K001,3/4/2026,knee,lfet,3 weeks,strain,,,perhaps,']);
    expect(rows).toMatchObject([
      { athleteId: 'K001', day: null, region: 'knee', side: null, daysLost: null, type: 'strain', recurrent: null },
    ]);
  });

  test('the same row twice counts once, however the athlete is written', () => {
    const { rows, warnings } = read([
      'K001,2026-09-03,knee,left,21,,,,,',
      'K001,2026-09-03,ankle,left,21,,,,,',
      'k 1,2026-09-03,knee,left,21,,,,,',
    ]);
    expect(rows.map(({ region }) => region)).toEqual(['knee', 'ankle']);
    expect(told(warnings)).toEqual([
      'injuries.csv:4: says the same as line 2 It counts once. Take one of the two out.',
    ]);
  });

  test('a column that nobody asked for, and one that is missing', () => {
    expect(told(read(['K001,2026-09-03,x'], 'athlete_id,date,what').warnings)).toEqual([
      'injuries.csv: column "what" not used',
    ]);
    expect(() => read(['K001,knee'], 'athlete_id,region')).toThrow(Failure);
    expect(() => read(['K001,knee'], 'athlete_id,region')).toThrow('injuries.csv:1: has no column date.');
  });
});

test('the days of onset, for the occasions', () => {
  const { rows, warnings } = readInjuryLog(
    `${HEADER}\nK001,2026-09-03,,,,,,,,\nK103,,,,,,,,,\nK001,2026-08-14,,,,,,,,\nK999,2026-08-14,,,,,,,,\n`,
    SPEC,
    DIRECTORY,
  );
  expect([...injuryDays(rows)]).toEqual([['K001', [day('2026-08-14'), day('2026-09-03')]]]);
  expect(warnings.map(({ line, column }) => [line, column])).toEqual([
    [3, 2],
    [5, 1],
  ]);
});

test('any text is read, or refused with a Failure', () => {
  holdsForAnyText(HEADER, (text) => readInjuryLog(text, SPEC, DIRECTORY));
});

test('long cells', () => standsLongCells(HEADER, (text) => readInjuryLog(text, SPEC, DIRECTORY)));
