import { describe, expect, test } from 'vitest';
import { openSetup, type Setup } from '../../src/screening/setup.ts';
import { tempFolder } from '../cases/bilat.ts';
import { PROTOCOL } from '../cases/small.ts';

function open(files: Readonly<Record<string, string>>): Promise<Setup> {
  const cwd = tempFolder({ 'protocol.yaml': PROTOCOL, ...files });
  return openSetup({ cwd, names: false, hasInputs: false });
}

const HOLDS_NOBODY = {
  file: 'roster.csv',
  message: 'holds no athlete, so the sheets say who the athletes are',
  hint: 'Fill it in, one line an athlete, so that a mistyped id or name is found.',
};

describe('a roster without an athlete', () => {
  test.each([
    ['headings only', 'athlete_id,last_name,team\n'],
    ['headings and blank lines', 'athlete_id,team\n,\n\n'],
  ])('%s: is no roster, and that is said', async (_, text) => {
    const { roster, inputs, warnings, screening } = await open({ 'roster.csv': text });
    expect(roster).toBeUndefined();
    expect(screening.rosterTeams ?? []).toEqual([]);
    expect(inputs).toContain('roster.csv');
    expect(warnings).toEqual([HOLDS_NOBODY]);
  });

  test('lines without an id are told too', async () => {
    const { roster, warnings } = await open({ 'roster.csv': 'athlete_id,team\n,Rowing\n' });
    expect(roster).toBeUndefined();
    expect(warnings).toEqual([
      { file: 'roster.csv', line: 2, message: 'has no athlete_id', hint: 'The row is left out.' },
      HOLDS_NOBODY,
    ]);
  });

  test('one athlete makes it a roster', async () => {
    const { roster, warnings } = await open({ 'roster.csv': 'athlete_id,team\nA1,Rowing\n' });
    expect(roster?.rows.map((row) => row.athleteId)).toEqual(['A1']);
    expect(warnings).toEqual([]);
  });

  test('a file without any line is a mistake still', async () => {
    await expect(open({ 'roster.csv': '' })).rejects.toThrow('roster.csv: is empty: not even a header');
  });
});
