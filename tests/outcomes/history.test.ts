import { describe, expect, test } from 'vitest';
import { AthleteDirectory } from '../../src/athletes/directory.ts';
import { readRoster } from '../../src/athletes/roster.ts';
import { readHistory } from '../../src/outcomes/history.ts';
import { readSurgery } from '../../src/outcomes/surgery.ts';
import { troubleText } from '../../src/problems/failure.ts';
import { parseIsoDay } from '../../src/units/days.ts';

const HEADER = 'athlete_id,region,side,date,surgery,full_return';
const SPEC = { file: 'history.csv', columns: new Map<string, string>() };
const ROSTER = readRoster(
  'athlete_id,last_name,first_name\nK001,Reed,Bo\nK002,Reed,Bo\nK003,Ash,Ivy\n',
  { file: 'roster.csv', columns: new Map() },
  [],
  new Map(),
);
const DIRECTORY = new AthleteDirectory(ROSTER, new Map(), 'reject', false);
const day = (iso: string): number => parseIsoDay(iso)!;
const TEST_DAY = day('2026-08-17');

function read(lines: readonly string[], header = HEADER) {
  return readHistory(`${[header, ...lines].join('\n')}\n`, SPEC, DIRECTORY);
}

test('rows as they are written', () => {
  const { rows, warnings } = read([
    'K001,knee,L,2024-03-02,yes,2025-01-10',
    'k 3,Shoulder,right,,,',
    '"Ash, Ivy",groin,both,14/8/2023,no,-',
    'K001,head,n/a,2022-01-05,,2022-02-01',
  ]);
  expect(warnings).toEqual([]);
  expect(rows).toEqual([
    {
      athleteId: 'K001',
      region: 'knee',
      side: 'left',
      day: day('2024-03-02'),
      surgery: true,
      fullReturn: day('2025-01-10'),
    },
    { athleteId: 'K003', region: 'Shoulder', side: 'right', day: null, surgery: false, fullReturn: null },
    { athleteId: 'K003', region: 'groin', side: 'both', day: day('2023-08-14'), surgery: false, fullReturn: null },
    {
      athleteId: 'K001',
      region: 'head',
      side: null,
      day: day('2022-01-05'),
      surgery: false,
      fullReturn: day('2022-02-01'),
    },
  ]);
});

describe('the side that is involved, and the one that was operated on', () => {
  test.each<[string, readonly string[], string | undefined, string | undefined]>([
    ['nothing is written of the athlete', ['K003,knee,left,2024-03-02,yes,'], undefined, undefined],
    ['an injury', ['K001,knee,left,2024-03-02,no,'], 'left', undefined],
    ['an operation', ['K001,knee,right,2024-03-02,yes,'], 'right', 'right'],
    [
      'the other side hurt, not operated on',
      ['K001,knee,right,2024-03-02,yes,', 'K001,ankle,left,2025-01-01,no,'],
      'both',
      'right',
    ],
    ['the same side twice', ['K001,knee,left,2024-03-02,yes,', 'K001,knee,L,2025-03-02,yes,'], 'left', 'left'],
    ['operations of both sides', ['K001,knee,left,2024-03-02,yes,', 'K001,knee,right,2025-03-02,yes,'], 'both', 'both'],
    ['one operation of both sides', ['K001,hip,both,2024-03-02,yes,'], 'both', 'both'],
    ['an operation on the very day', ['K001,knee,left,2026-08-17,yes,'], 'left', 'left'],
    ['an operation after the test', ['K001,knee,left,2026-08-18,yes,'], undefined, undefined],
    [
      'another side after the test',
      ['K001,knee,left,2024-03-02,yes,', 'K001,knee,right,2026-09-01,yes,'],
      'left',
      'left',
    ],
    ['no date', ['K001,knee,left,,yes,'], 'left', 'left'],
    ['a date that cannot be read', ['K001,knee,left,spring of 2024,yes,'], 'left', 'left'],
    ['no side', ['K001,head,,2024-03-02,no,'], undefined, undefined],
    ['no side beside one', ['K001,head,,2024-03-02,no,', 'K001,knee,left,2024-03-02,yes,'], 'left', 'left'],
    ['a side that cannot be read', ['K001,knee,rihgt,2024-03-02,yes,'], 'both', 'both'],
    ['an unread side beside one', ['K001,knee,left,2024-03-02,yes,', 'K001,knee,rihgt,2025-01-01,no,'], 'both', 'left'],
    ['an operation that cannot be read', ['K001,knee,left,2024-03-02,perhaps,'], 'left', 'both'],
    [
      'an unread operation of the other side',
      ['K001,knee,left,2024-03-02,yes,', 'K001,knee,right,2025-01-01,planned op,'],
      'both',
      'both',
    ],
    [
      'an unread operation of the same side',
      ['K001,knee,left,2024-03-02,yes,', 'K001,knee,left,2025-01-01,planned op,'],
      'left',
      'left',
    ],
  ])('%s', (_, lines, involved, surgical) => {
    const { of } = read(lines).involved;
    expect([of('K001', TEST_DAY, false), of('K001', TEST_DAY, true)]).toEqual([involved, surgical]);
  });

  test.each(['surgical', 'D', 'none of your business'])('%s is no side of the history', (side) => {
    expect(read([`K001,knee,${side},2024-03-02,yes,`]).involved.of('K001', TEST_DAY, true)).toBe('both');
  });
});

describe('what is said of cells that cannot be read', () => {
  test.each([
    ['K009,knee,left,,,', 'history.csv:2:1: athlete_id "K009" is nobody on the roster The row is left out.'],
    ['Nobody Known,knee,left,,,', 'history.csv:2:1: athlete_id is nobody on the roster The row is left out.'],
    [
      'Bo Reed,knee,left,,,',
      'history.csv:2:1: athlete_id fits more than one athlete of the roster The row is left out.',
    ],
    [
      'K001,knee,lfet,,,',
      'history.csv:2:3: side "lfet" is none of left, right, both Nobody can say then which side of the athlete is involved.',
    ],
    [
      'K001,knee,left,3/4/2024,,',
      'history.csv:2:4: date "3/4/2024" is not a date that reads one way: write YYYY-MM-DD The row counts for every test day.',
    ],
    [
      'K001,knee,left,,2024-03-02,',
      'history.csv:2:5: surgery "2024-03-02" is neither yes nor no Nobody can say then whether the side was operated on.',
    ],
    [
      'K001,knee,left,,,soon',
      'history.csv:2:6: full_return "soon" is not a date that reads one way: write YYYY-MM-DD It is taken as unknown.',
    ],
  ])('%s', (line, told) => {
    expect(
      read([line]).warnings.map((warning) => `${troubleText({ ...warning, hint: '' }).trim()} ${warning.hint}`),
    ).toEqual([told]);
  });

  test('columns that are not there, and those that nobody asked for', () => {
    const { warnings, involved } = read(['K001,2024-03-02,torn'], 'athlete_id,date,what');
    expect(warnings.map(({ message, hint }) => [message, hint])).toEqual([
      ['column "what" not used', undefined],
      ['has no column side', 'Involved and surgical sides stay unknown for everybody.'],
      ['has no column surgery', 'The surgical side stays unknown for everybody.'],
    ]);
    expect(involved.of('K001', TEST_DAY, false)).toBeUndefined();
  });

  test('a cell of megabytes costs no time and is not repeated', () => {
    const long = 'x 1'.repeat(1_000_000);
    const started = performance.now();
    const { warnings } = read([`K001,knee,${long},${long},${long},${long}`]);
    expect(warnings.map(({ message }) => message.length < 100)).toEqual([true, true, true, true]);
    expect(performance.now() - started).toBeLessThan(2000);
  });
});

describe('surgery', () => {
  test.each([
    'yes',
    'Y',
    ' TRUE ',
    '1',
    'x',
    'surgery',
    'ACL reconstruction',
    'labral repair',
    'Arthroscopy',
    'partial meniscectomy',
    'ORIF',
    'osteotomy (2023)',
    'op',
  ])('"%s" says that there was one', (text) => expect(readSurgery(text)).toBe(true));

  test.each(['', ' ', 'no', 'N', 'false', '0', 'none', '-', 'N/A', 'no surgery', 'non-operative', 'conservative'])(
    '"%s" says that there was none',
    (text) => expect(readSurgery(text)).toBe(false),
  );

  test.each([
    '?',
    'yes?',
    'unknown',
    'surgery planned',
    'awaiting reconstruction',
    'repair declined',
    'no repair',
    '2024-03-02',
    '2',
    'maybe',
    'physio',
    'ACL',
    'left',
  ])('"%s" cannot be read', (text) => expect(readSurgery(text)).toBeUndefined());
});
