import { describe, expect, it } from 'vitest';
import { AthleteDirectory, looksLikeId, type Match } from '../../src/athletes/directory.ts';
import { readRoster } from '../../src/athletes/roster.ts';
import { ROSTER } from '../sheets/battery.ts';

const roster = readRoster(ROSTER, { file: 'roster.csv', columns: new Map() }, [], new Map());
const people = new Map([
  ['Bo-Bo the Great', 'K001'],
  ['Kim M.', 'K003'],
  ['Zed', 'K999'],
  ['???', 'K001'],
]);
const listed = new AthleteDirectory(roster, people, 'reject', false);

function told(match: Match): string {
  if (match.kind === 'athlete') return match.by ? `${match.id} by ${match.by}` : match.id;
  return match.kind === 'unknown' ? `unknown: ${match.nearest.join(' ')}` : `one of ${match.ids.join(' ')}`;
}

describe('an athlete of the roster', () => {
  it.each([
    // by id
    ['K001', 'K001'],
    [' K001 ', 'K001'],
    ['k001', 'K001 by case'],
    ['K 001', 'K001 by case'],
    ['k\u00a0001', 'K001 by case'],
    ['K1', 'K001 by zeros'],
    ['K01', 'K001 by zeros'],
    ['K0005', 'K005 by zeros'],
    // Both exist: each is itself, and what could be either is nobody's.
    ['K014', 'K014'],
    ['K14', 'K14'],
    ['k14', 'K14 by case'],
    ['K0014', 'one of K014 K14'],
    // by name, in either order, accents, case and marks aside
    ['Bo Reed', 'K001 by name'],
    ['Reed Bo', 'K001 by name'],
    ['Reed, Bo', 'K001 by name'],
    ['REED,BO', 'K001 by name'],
    ['bo  reed', 'K001 by name'],
    ['Zoë Ødegård', 'K002 by name'],
    ['Zoe Odegard', 'K002 by name'],
    ['ODEGARD, ZOE', 'K002 by name'],
    ["Lee O'Hara", 'K005 by name'],
    ['Lee O’Hara', 'K005 by name'],
    // by another name, alone or with the last name
    ['Bobo', 'K001 by name'],
    ['Bobo Reed', 'K001 by name'],
    ['B Reed', 'K001 by name'],
    ['Kimmy', 'K004 by name'],
    ['Kimmy Moss', 'K004 by name'],
    // settled in screening.yaml
    ['Bo-Bo the Great', 'K001 by name'],
    ['bo bo THE great', 'K001 by name'],
    ['Kim M', 'K003 by name'],
    // nobody is matched on a guess
    ['Kim Moss', 'one of K003 K004'],
    ['Bo', 'unknown: K001'],
    ['Reed', 'unknown: K001'],
    ['Bo Read', 'unknown: K001'],
    // Every id of a squad is a digit away: to name three of them would only invite to take one.
    ['K006', 'unknown: '],
    ['K0044', 'unknown: K004'],
    ['X900', 'unknown: '],
    ['Lee OHara', 'unknown: K005'],
    ['???', 'unknown: '],
    ['__proto__', 'unknown: '],
    ['constructor', 'unknown: '],
    // An id under people: that is on no roster is a slip, not a new athlete.
    ['Zed', 'unknown: '],
  ])('%j: %s', (text, expected) => {
    expect(told(listed.find(text))).toBe(expected);
  });

  it('is looked for at once in a cell of 100 000 characters', () => {
    const started = performance.now();
    for (const letter of ['x', '0', 'K0', ' ']) expect(listed.find(letter.repeat(100_000)).kind).toBe('unknown');
    expect(performance.now() - started).toBeLessThan(200);
  });
});

describe('an athlete named in a sentence', () => {
  it.each([
    ['* K002 stopped early', 'K002'],
    ['(k 014) and (K014)', 'K014'],
    ["seen by Lee O'Hara at noon", 'K005'],
    ['Odegard, Zoe: sore', 'K002'],
    // A nickname or a family name alone is any word; two athletes are called Kim Moss.
    ['Bobo said so', undefined],
    ['the Reed mat', undefined],
    ['Kim Moss left', undefined],
    ['best of 1, 2 and 14', undefined],
    ['x'.repeat(10_000_000), undefined],
  ])('%.30j: %s', (text, id) => expect(listed.namedIn(text)).toBe(id));
});

describe('an athlete on no list', () => {
  const unlisted = new AthleteDirectory(undefined, people, 'reject', false);
  const kept = new AthleteDirectory(roster, people, 'keep', false);
  const named = new AthleteDirectory(undefined, new Map(), 'reject', true);

  it('is who the sheet says where there is no roster', () => {
    expect(['Z9', 'k001', 'Zed'].map((text) => told(unlisted.find(text)))).toEqual(['Z9', 'k001', 'K999 by name']);
  });

  it('is kept by id if screening.yaml says so', () => {
    expect(['Z9', 'k001', 'Zed'].map((text) => told(kept.find(text)))).toEqual(['Z9', 'K001 by case', 'K999 by name']);
  });

  it('has no name for an id unless names may be shown', () => {
    expect([unlisted, kept, named].map((directory) => told(directory.find('Pat Vane')))).toEqual([
      'unknown: ',
      'unknown: ',
      'Pat Vane',
    ]);
  });
});

it.each([
  ['K014', true],
  ['k 014', true],
  ['7', true],
  ['2026-014', true],
  ['ROW 12', true],
  ['Athlete no. 14', true],
  ['# 14', true],
  ['Bo Reed', false],
  ['Bo Reed 2', false],
  ['Bo 2', false],
  ['Moss (K003)', false],
  ['Reed, Bo, 2005', false],
  ['', false],
  ['?', false],
  ['1'.repeat(100_000), false],
])('%.30j looks like an id: %s', (text, expected) => {
  expect(looksLikeId(text)).toBe(expected);
});
