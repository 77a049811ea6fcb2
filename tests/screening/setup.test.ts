import { expect, test } from 'vitest';
import { openSetup } from '../../src/screening/setup.ts';
import { folderSheets } from '../../src/screening/sources.ts';
import { parseIsoDay } from '../../src/units/days.ts';
import { tempFolder } from '../cases/bilat.ts';
import { PROTOCOL, SHEET } from '../cases/small.ts';

function open(files: Readonly<Record<string, string>>) {
  const cwd = tempFolder({ 'protocol.yaml': PROTOCOL, ...files });
  return openSetup({ cwd, names: false, hasInputs: false });
}

test('each sheet has what its own name says, and teams of the roster tell where the team ends', async () => {
  const { screening } = await open({
    'screening.yaml': `teams: {Rowing: {also: [W. Rowing]}}
sheets:
  - { files: "sheets/*.csv", station: Gym, from_name: "{team}_{date}", dates: dmy }
  - { files: "more/*.csv", from_name: "{team}_{station}" }
`,
    'roster.csv': 'athlete_id,team\nA1,Water polo\nA2,Rowing;Fencing\n',
    'sheets/w_rowing_17-08-2026.csv': SHEET,
    'sheets/Fencing_3-4-2026.csv': SHEET,
    'sheets/notes.csv': SHEET,
    'more/WATER_POLO_hip_strength.csv': SHEET,
  });
  const { sheets, notes } = await folderSheets(screening);
  expect(notes).toEqual([]);
  expect(sheets.map(({ file, entry: { team, station, date } }) => ({ file, team, station, date }))).toEqual([
    { file: 'sheets/Fencing_3-4-2026.csv', team: 'Fencing', station: 'Gym', date: '2026-04-03' },
    { file: 'sheets/notes.csv', team: undefined, station: 'Gym', date: undefined },
    { file: 'sheets/w_rowing_17-08-2026.csv', team: 'Rowing', station: 'Gym', date: '2026-08-17' },
    { file: 'more/WATER_POLO_hip_strength.csv', team: 'Water polo', station: 'hip strength', date: undefined },
  ]);
  expect(sheets.map(({ entry }) => entry.nameProblem)).toEqual([
    undefined,
    'the name does not fit from_name "{team}_{date}": nothing is taken from it',
    undefined,
    undefined,
  ]);
});

test('history.csv is an input that tells involved sides, with what it is not used for', async () => {
  const { history, inputs, warnings } = await open({
    'roster.csv': 'athlete_id\nA1\n',
    'history.csv': 'athlete_id,side,surgery\nA1,L,yes\nA9,R,yes\n',
  });
  expect(inputs).toContain('history.csv');
  expect(history.of('A1', parseIsoDay('2026-08-17')!, true)).toBe('left');
  expect(warnings.map(({ message }) => message)).toEqual([
    'is used for surgical and involved sides only: no rule is narrowed by it yet',
    'athlete_id "A9" is nobody on the roster',
  ]);
});

test('without a history nobody has an involved side, and files of later versions are no inputs', async () => {
  const { history, inputs, warnings } = await open({ 'work.csv': 'athlete_id\nA1\n' });
  expect(history.of('A1', 0, false)).toBeUndefined();
  expect(inputs).toEqual(['protocol.yaml']);
  expect(warnings.map(({ message }) => message)).toEqual(['is there, and this version makes no use of work yet']);
});
