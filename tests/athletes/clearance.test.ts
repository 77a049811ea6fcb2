import { describe, expect, test } from 'vitest';
import { clearanceOn, clearancesOn, readClearance } from '../../src/athletes/clearance.ts';
import { DIRECTORY, day, holdsForAnyText, spec, standsLongCells, told } from './side_files.ts';

const HEADER = 'athlete_id,date,status,region,side,until';
const SPEC = spec('clearance.csv');
const read = (lines: readonly string[], header = HEADER) =>
  readClearance([header, ...lines].join('\n'), SPEC, DIRECTORY);

test('rows as they are written', () => {
  const { rows, warnings } = read([
    'K001,2026-08-03,Not cleared,Head,n/a,2026-08-17',
    '"Ash, Ivy",14/8/2026,LIMITED,knee,L,',
    'k 2,2026-08-14,cleared,,,2027-06-30',
    'K002,2026-08-01,pending,,,-',
  ]);
  expect(warnings).toEqual([]);
  expect(rows).toEqual([
    {
      line: 2,
      athleteId: 'K001',
      day: day('2026-08-03'),
      status: 'not_cleared',
      region: 'Head',
      side: null,
      until: day('2026-08-17'),
    },
    {
      line: 3,
      athleteId: 'K103',
      day: day('2026-08-14'),
      status: 'limited',
      region: 'knee',
      side: 'left',
      until: null,
    },
    {
      line: 4,
      athleteId: 'K002',
      day: day('2026-08-14'),
      status: 'cleared',
      region: '',
      side: null,
      until: day('2027-06-30'),
    },
    { line: 5, athleteId: 'K002', day: day('2026-08-01'), status: 'pending', region: '', side: null, until: null },
  ]);
});

test.each([
  ['cleared', 'cleared'],
  ['Cleared', 'cleared'],
  ['not_cleared', 'not_cleared'],
  ['Not cleared', 'not_cleared'],
  ['NOT-CLEARED', 'not_cleared'],
  ['not\u2013cleared', 'not_cleared'],
  ['not  cleared', 'not_cleared'],
  ['limited', 'limited'],
  ['Pending', 'pending'],
])('status "%s" is %s', (cell, status) => {
  const { rows, warnings } = read([`K001,2026-08-03,${cell},,,`]);
  expect([rows[0].status, warnings]).toEqual([status, []]);
});

describe('a status that cannot be read clears nobody', () => {
  test.each([
    ...['uncleared', 'clear', 'cleared?', 'cleard', 'notcleared', 'not cleared yet', 'cleared for upper body'],
    ...['ok', 'yes', 'no', 'held', 'Reed'],
  ])('%s', (cell) => {
    const { rows, warnings } = read([`K001,2026-08-03,${cell},,,`]);
    expect(rows[0].status).toBeNull();
    expect(told(warnings)).toEqual([
      `clearance.csv:2:3: status${cell === 'Reed' ? '' : ` "${cell}"`} is none of cleared, limited, not_cleared, pending The athlete is not known to be cleared.`,
    ]);
  });

  test.each(['', '-', 'n/a'])('"%s"', (cell) => {
    const { rows, warnings } = read([`K001,2026-08-03,${cell},knee,,`]);
    expect(rows[0].status).toBeNull();
    expect(told(warnings)).toEqual([
      'clearance.csv:2:3: status is not given: write cleared, limited, not_cleared, pending The athlete is not known to be cleared.',
    ]);
  });
});

describe('what is said of the other cells', () => {
  const ONE_WAY = 'is not a date that reads one way: write YYYY-MM-DD';
  const HOW_LONG = 'Nobody can say how long it holds. The athlete is not known to be cleared.';
  test.each([
    [
      'K109,2026-08-03,limited,,,',
      'clearance.csv:2:1: athlete_id "K109" is nobody on the roster The nearest: K103. The row is left out: it holds nobody back.',
      [],
    ],
    [
      'K001,3/4/2026,limited,,,',
      `clearance.csv:2:2: date "3/4/2026" ${ONE_WAY} It may be 2026-04-03 or 2026-03-04. The dates of the column do not show whether day or month comes first; dates: is for sheets alone. The row counts for every day.`,
      [[null, 'limited', null]],
    ],
    [
      'K001,soon,cleared,,,',
      `clearance.csv:2:2: date "soon" ${ONE_WAY} The athlete is not known to be cleared.`,
      [[null, 'cleared', null]],
    ],
    [
      'K001,,not_cleared,,,',
      'clearance.csv:2:2: date is not given: write YYYY-MM-DD The row counts for every day.',
      [[null, 'not_cleared', null]],
    ],
    [
      'K001,2026-08-03,limited,knee,lfet,',
      'clearance.csv:2:5: side "lfet" is none of left, right, both It is taken as unknown.',
      [['2026-08-03', 'limited', null]],
    ],
    [
      'K001,2026-08-03,limited,,,2026-08-02',
      'clearance.csv:2:6: until "2026-08-02" is before the date It is taken as unknown.',
      [['2026-08-03', 'limited', null]],
    ],
    [
      'K001,2026-08-03,cleared,,,2026-08-02',
      `clearance.csv:2:6: until "2026-08-02" is before the date ${HOW_LONG}`,
      [['2026-08-03', null, null]],
    ],
    [
      'K001,2026-08-03,cleared,,,season',
      `clearance.csv:2:6: until "season" ${ONE_WAY} ${HOW_LONG}`,
      [['2026-08-03', null, null]],
    ],
  ])('%s', (line, message, kept) => {
    const { rows, warnings } = read([line]);
    expect(told(warnings)).toEqual([message]);
    const days = kept.map(([iso, status, until]) => ({ day: iso === null ? null : day(iso!), status, until }));
    expect(rows.map((row) => ({ day: row.day, status: row.status, until: row.until }))).toEqual(days);
  });

  test('the same row twice, and two that contradict each other', () => {
    const { rows, warnings } = read([
      'K001,2026-08-03,limited,knee,left,',
      'K001,2026-08-03,limited,knee,left,',
      'K001,2026-08-03,cleared,Knee,L,',
      'K001,2026-08-03,cleared,head,,',
    ]);
    expect(rows.map(({ line }) => line)).toEqual([2, 4, 5]);
    expect(told(warnings)).toEqual([
      'clearance.csv:3: says the same as line 2 It counts once. Take one of the two out.',
      'clearance.csv:4: says otherwise than line 2, of the same athlete and day The more careful of the two holds. Take one of them out.',
    ]);
  });

  test('a missing column', () => {
    expect(() => read(['K001,2026-08-03'], 'athlete_id,date')).toThrow('has no column status.');
  });
});

describe('what holds on a day', () => {
  const on = (lines: readonly string[], iso: string) => clearanceOn(read(lines).rows, 'K001', day(iso));
  const OLD = 'K001,2026-08-01,not_cleared,,,';
  const NEW = 'K001,2026-08-10,cleared,,,';

  test.each<[string, readonly string[], string, number | undefined]>([
    ['nothing is written', [], '2026-08-10', undefined],
    ['another athlete', ['K002,2026-08-01,cleared,,,'], '2026-08-10', undefined],
    ['the day before the first', [OLD, NEW], '2026-07-31', undefined],
    ['the very day of the first', [OLD, NEW], '2026-08-01', 2],
    ['between the two', [OLD, NEW], '2026-08-09', 2],
    ['the very day of the second', [OLD, NEW], '2026-08-10', 3],
    ['long after', [OLD, NEW], '2027-01-01', 3],
    ['the order of lines does not matter', [NEW, OLD], '2026-08-10', 2],
    [
      'two of a day: not cleared goes before cleared',
      ['K001,2026-08-10,cleared,,,', 'K001,2026-08-10,not_cleared,,,'],
      '2026-08-10',
      3,
    ],
    ['two of a day: an unread status goes before cleared', ['K001,2026-08-10,ok,,,', NEW], '2026-08-10', 2],
    [
      'two of a day: not cleared goes before an unread one',
      ['K001,2026-08-10,ok,,,', 'K001,2026-08-10,not_cleared,,,'],
      '2026-08-10',
      3,
    ],
    ['two of a day: limited goes before cleared', [NEW, 'K001,2026-08-10,limited,,,'], '2026-08-10', 3],
    ['a clearance without a day clears nobody', [OLD, 'K001,,cleared,,,'], '2026-08-10', 2],
    ['a hold without a day counts', [NEW, 'K001,,not_cleared,,,'], '2026-08-10', 3],
    ['an unread status without a day counts', [NEW, 'K001,,ok,,,'], '2026-08-10', 3],
  ])('%s', (_, lines, iso, line) => expect(on(lines, iso)?.line).toBe(line));

  test('a row that has run out is still the newest: its last day stands in it', () => {
    expect(on(['K001,2026-08-01,cleared,,,2026-08-05'], '2026-08-10')?.until).toBe(day('2026-08-05'));
  });

  test.each<[string, readonly string[], readonly number[]]>([
    ['nothing', [], []],
    [
      'the knee is cleared, the head is not',
      ['K001,2026-08-01,not_cleared,head,,', 'K001,2026-08-10,cleared,knee,,'],
      [2, 3],
    ],
    ['the same region is lifted', ['K001,2026-08-01,not_cleared,Head,,', 'K001,2026-08-10,cleared,head,,'], [3]],
    ['the other side is not', ['K001,2026-08-01,limited,knee,left,', 'K001,2026-08-10,cleared,knee,right,'], [2, 3]],
    [
      'all is lifted by a row of the whole athlete',
      ['K001,2026-08-01,limited,knee,left,', 'K001,2026-08-02,pending,head,,', NEW],
      [4],
    ],
    ['a region after the whole athlete stands beside it', [OLD, 'K001,2026-08-05,limited,knee,left,'], [2, 3]],
    ['a region of the same day stands too', ['K001,2026-08-10,limited,knee,left,', NEW], [2, 3]],
    ['later days do not count', ['K001,2026-08-11,not_cleared,,,', NEW], [3]],
  ])('by region: %s', (_, lines, standing) => {
    expect(clearancesOn(read(lines).rows, 'K001', day('2026-08-10')).map(({ line }) => line)).toEqual(standing);
  });
});

test('any text is read, or refused with a Failure', () => {
  holdsForAnyText(HEADER, (text) => readClearance(text, SPEC, DIRECTORY));
});

test('long cells', () => standsLongCells(HEADER, (text) => readClearance(text, SPEC, DIRECTORY)));
