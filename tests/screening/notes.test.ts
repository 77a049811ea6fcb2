import { expect, test } from 'vitest';
import { Notes } from '../../src/screening/notes.ts';

const zeros = (file: string, id: number): string => `${file}: athlete "${id}" is taken as 00${id}`;

test('a text that comes again is said once, with how often', () => {
  const notes = new Notes();
  for (const text of ['a', 'b', 'a']) notes.add(text);
  expect([...notes]).toEqual(['a (2 times)', 'b']);
});

test('from the fourth athlete of a sheet on, notes of a kind are counted', () => {
  const notes = new Notes();
  for (const id of [41, 42, 43, 44, 45, 45, 41]) notes.add(zeros('a.csv', id), 'zeros');
  notes.add('a.csv: athlete 0041 stands under team "Rowing"', 'team');
  for (const id of [41, 42, 43, 44]) notes.add(zeros('b.csv', id), 'zeros');
  expect([...notes]).toEqual([
    'a.csv: athlete "41" is taken as 0041 (2 times)',
    'a.csv: athlete "42" is taken as 0042',
    'a.csv: athlete "43" is taken as 0043',
    'a.csv: and so 2 more athletes of this sheet',
    'a.csv: athlete 0041 stands under team "Rowing"',
    'b.csv: athlete "41" is taken as 0041',
    'b.csv: athlete "42" is taken as 0042',
    'b.csv: athlete "43" is taken as 0043',
    'b.csv: and so 1 more athlete of this sheet',
  ]);
});

test('three of a kind are all told', () => {
  const notes = new Notes();
  for (const id of [41, 42, 43]) notes.add(zeros('a.csv', id), 'zeros');
  expect([...notes]).toHaveLength(3);
});
