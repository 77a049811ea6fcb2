import { describe, expect, test } from 'vitest';
import { readReferrals } from '../../src/athletes/referrals.ts';
import { DIRECTORY, day, holdsForAnyText, spec, standsLongCells, told } from './side_files.ts';

const HEADER = 'athlete_id,date,rule,seen_on,outcome,closed_on';
const SPEC = spec('referrals.csv');
const RULES = ['hip_adduction_weak', 'systolic_high', 'pain', 'unable', 'one_side'];
const read = (lines: readonly string[], header = HEADER) =>
  readReferrals([header, ...lines].join('\n'), SPEC, DIRECTORY, RULES);

test('rows as they are written', () => {
  const { rows, warnings } = read([
    'K001,2026-08-12,systolic_high,2026-08-12,"repeat reading, normal",2026-08-20',
    '"Ash, Ivy",12 Aug 2026,Hip adduction weak,,,',
    'K002,2026-08-12,pain,2026-08-13,,',
    'K002,2026-08-13,-,,,',
  ]);
  expect(warnings).toEqual([]);
  expect(rows).toEqual([
    {
      line: 2,
      athleteId: 'K001',
      day: day('2026-08-12'),
      rule: 'systolic_high',
      seenOn: day('2026-08-12'),
      outcome: 'repeat reading, normal',
      closedOn: day('2026-08-20'),
    },
    {
      line: 3,
      athleteId: 'K103',
      day: day('2026-08-12'),
      rule: 'hip_adduction_weak',
      seenOn: null,
      outcome: '',
      closedOn: null,
    },
    {
      line: 4,
      athleteId: 'K002',
      day: day('2026-08-12'),
      rule: 'pain',
      seenOn: day('2026-08-13'),
      outcome: '',
      closedOn: null,
    },
    {
      line: 5,
      athleteId: 'K002',
      day: day('2026-08-13'),
      rule: null,
      seenOn: null,
      outcome: '',
      closedOn: null,
    },
  ]);
});

describe('what is said of cells that cannot be read', () => {
  const ONE_WAY = 'is not a date that reads one way: write YYYY-MM-DD';
  test.each([
    [
      'K999,2026-08-12,pain,,,',
      'referrals.csv:2:1: athlete_id "K999" is nobody on the roster The referral is left out.',
    ],
    ['K001,,pain,,,', 'referrals.csv:2:2: date is not given: write YYYY-MM-DD It is taken as unknown.'],
    [
      'K001,2026-08-12,hip_adducton_weak,,,',
      'referrals.csv:2:3: rule "hip_adducton_weak" is none of the protocol Did you mean hip_adduction_weak? It is taken as unknown.',
    ],
    [
      'K001,2026-08-12,rule 9,,,',
      'referrals.csv:2:3: rule "rule 9" is none of the protocol Known: hip_adduction_weak, systolic_high, pain, unable, one_side. It is taken as unknown.',
    ],
    [
      'K001,2026-08-12,pain,next week,,',
      `referrals.csv:2:4: seen_on "next week" ${ONE_WAY} The athlete counts as not seen.`,
    ],
    [
      'K001,2026-08-12,pain,2026-08-11,,',
      'referrals.csv:2:4: seen_on "2026-08-11" is before the date The athlete counts as not seen.',
    ],
    [
      'K001,2026-08-12,pain,,,2026-08-11',
      'referrals.csv:2:6: closed_on "2026-08-11" is before the date The referral counts as open.',
    ],
    [
      'K001,2026-08-12,pain,,,3/4/2027',
      `referrals.csv:2:6: closed_on "3/4/2027" ${ONE_WAY} It may be 2027-04-03 or 2027-03-04. The dates of the column do not show whether day or month comes first; dates: is for sheets alone. The referral counts as open.`,
    ],
  ])('%s', (line, message) => {
    expect(told(read([line]).warnings)).toEqual([message]);
  });

  test('a referral is never closed by a cell that cannot be right', () => {
    const { rows } = read(['K001,2026-08-12,pain,2026-08-01,well,2026-08-11', 'K002,2026-08-12,pian,,,soon']);
    expect(rows).toMatchObject([
      { rule: 'pain', seenOn: null, outcome: 'well', closedOn: null },
      { rule: null, closedOn: null },
    ]);
  });

  test('the same row twice counts once', () => {
    const { rows, warnings } = read(['K001,2026-08-12,pain,,,', 'K001,2026-08-12,pain,,,']);
    expect(rows).toHaveLength(1);
    expect(told(warnings)).toEqual([
      'referrals.csv:3: says the same as line 2 It counts once. Take one of the two out.',
    ]);
  });

  test('a missing column', () => {
    expect(() => read(['K001,2026-08-12'], 'athlete_id,date')).toThrow('has no column rule.');
  });
});

test('any text is read, or refused with a Failure', () => {
  holdsForAnyText(HEADER, (text) => readReferrals(text, SPEC, DIRECTORY, RULES));
});

test('long cells', () => standsLongCells(HEADER, (text) => readReferrals(text, SPEC, DIRECTORY, RULES)));
