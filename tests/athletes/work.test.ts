import { describe, expect, test } from 'vitest';
import { readWork } from '../../src/athletes/work.ts';
import { DIRECTORY, day, holdsForAnyText, spec, standsLongCells, told } from './side_files.ts';

const HEADER = 'athlete_id,programme,started,planned,done,stopped,reason';
const SPEC = spec('work.csv');
const PROGRAMMES = ['adductor_strength', 'shoulder_rotation'];
const read = (lines: readonly string[], header = HEADER) =>
  readWork([header, ...lines].join('\n'), SPEC, DIRECTORY, PROGRAMMES);

test('rows as they are written', () => {
  const { rows, warnings } = read([
    'K001,adductor_strength,2026-08-20,18,15,2026-10-01,completed',
    '"Ash, Ivy",Shoulder rotation,20 Aug 2026,18,0,,',
    'K002,adductor_strength,,,,-,',
  ]);
  expect(warnings).toEqual([]);
  expect(rows).toEqual([
    {
      line: 2,
      athleteId: 'K001',
      programme: 'adductor_strength',
      started: day('2026-08-20'),
      planned: 18,
      done: 15,
      stopped: day('2026-10-01'),
      reason: 'completed',
    },
    {
      line: 3,
      athleteId: 'K103',
      programme: 'shoulder_rotation',
      started: day('2026-08-20'),
      planned: 18,
      done: 0,
      stopped: null,
      reason: '',
    },
    {
      line: 4,
      athleteId: 'K002',
      programme: 'adductor_strength',
      started: null,
      planned: null,
      done: null,
      stopped: null,
      reason: '',
    },
  ]);
});

describe('what is said of cells that cannot be read', () => {
  const COUNT = 'is not a whole number from 0 on It is taken as unknown.';
  test.each([
    ['K999,adductor_strength,,,,,', 'work.csv:2:1: athlete_id "K999" is nobody on the roster The row is left out.'],
    [
      'K001,aductor_strength,,,,,',
      'work.csv:2:2: programme "aductor_strength" is none of the protocol Did you mean adductor_strength? It is taken as unknown.',
    ],
    ['K001,,,18,,,', 'work.csv:2:2: programme is not given The row counts for no programme.'],
    [
      'K001,adductor_strength,8/9/2026,,,,',
      'work.csv:2:3: started "8/9/2026" is not a date that reads one way: write YYYY-MM-DD It may be 2026-09-08 or 2026-08-09. The dates of the column do not show whether day or month comes first; dates: is for sheets alone. It is taken as unknown.',
    ],
    ['K001,adductor_strength,,17.5,,,', `work.csv:2:4: planned "17.5" ${COUNT}`],
    ['K001,adductor_strength,,3/week,,,', `work.csv:2:4: planned "3/week" ${COUNT}`],
    ['K001,adductor_strength,,,-2,,', `work.csv:2:5: done "-2" ${COUNT}`],
    ['K001,adductor_strength,,,all,,', `work.csv:2:5: done "all" ${COUNT}`],
    ['K001,adductor_strength,,,80%,,', `work.csv:2:5: done "80%" ${COUNT}`],
    [
      'K001,adductor_strength,,18,20,,',
      'work.csv:2:5: done "20" is more than the 18 planned Both are taken as they are written. Check them.',
    ],
    [
      'K001,adductor_strength,2026-08-20,,,2026-08-19,',
      'work.csv:2:6: stopped "2026-08-19" is before started It is taken as unknown.',
    ],
  ])('%s', (line, message) => {
    expect(told(read([line]).warnings)).toEqual([message]);
  });

  test('what cannot be read is unknown, never 0; more done than planned is kept', () => {
    const { rows } = read(['K001,what,8/9/2026,many,all,soon,', 'K001,adductor_strength,,18,20,,']);
    expect(rows).toMatchObject([
      { programme: null, started: null, planned: null, done: null, stopped: null },
      { planned: 18, done: 20 },
    ]);
  });

  test('the same row twice counts once', () => {
    const { rows, warnings } = read(['K001,adductor_strength,,18,,,', 'K001,adductor_strength,,18,,,']);
    expect(rows).toHaveLength(1);
    expect(told(warnings)).toEqual(['work.csv:3: says the same as line 2 It counts once. Take one of the two out.']);
  });

  test('a missing column', () => {
    expect(() => read(['K001'], 'athlete_id')).toThrow('has no column programme.');
  });
});

test('any text is read, or refused with a Failure', () => {
  holdsForAnyText(HEADER, (text) => readWork(text, SPEC, DIRECTORY, PROGRAMMES));
});

test('long cells', () => standsLongCells(HEADER, (text) => readWork(text, SPEC, DIRECTORY, PROGRAMMES)));
