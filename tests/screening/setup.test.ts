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

test('history.csv is an input that tells involved sides and earlier injuries', async () => {
  const { history, past, inputs, warnings } = await open({
    'roster.csv': 'athlete_id\nA1\n',
    'history.csv': 'athlete_id,side,surgery,region\nA1,L,yes,knee\nA9,R,yes,knee\n',
  });
  expect(inputs).toContain('history.csv');
  expect(history.of('A1', parseIsoDay('2026-08-17')!, true)).toBe('left');
  expect(past.of('A1', 'knee', 0)).toEqual([{ region: 'knee', side: 'left', day: null }]);
  expect(warnings.map(({ message }) => message)).toEqual(['athlete_id "A9" is nobody on the roster']);
});

test('without a history nobody has an involved side, and exposures, which no stage uses, are no input', async () => {
  const { history, inputs, warnings } = await open({ 'exposures.csv': 'season,team,athlete_exposures\n' });
  expect(history.of('A1', 0, false)).toBeUndefined();
  expect(inputs).toEqual(['protocol.yaml']);
  expect(warnings.map(({ message }) => message)).toEqual(['is there, and this version makes no use of exposures yet']);
});

test('side files are read, and a cell that is wrong stops nothing', async () => {
  const { injuries, injuryDays, sideTables, warnings } = await open({
    'roster.csv': 'athlete_id,team\nA1,Rowing\nA2,Fencing\n',
    'screening.yaml': 'sheets: [sheets/*.csv]\nteams: {Rowing: {also: [ROW]}}\n',
    'injuries.csv': 'athlete_id,date,days_lost,team\nA1,2026-09-03,12,ROW\nA2,soon,,\n',
    'exposures.csv': 'season,team,athlete_exposures\n2026,row,4120\n2026,Rowin,12\n',
    'clearance.csv': 'athlete_id,date,status\nA1,2026-08-03,Not cleared\nA2,2026-08-03,ok\n',
    'referrals.csv': 'athlete_id,date,rule\nA1,2026-08-03,pain\nA2,2026-08-03,pian\n',
    'work.csv': 'athlete_id,programme,started\nA1,,2026-08-03\n',
  });
  expect(injuries).toMatchObject([
    { athleteId: 'A1', daysLost: 12, team: 'Rowing' },
    { athleteId: 'A2', day: null, daysLost: null },
  ]);
  expect([...injuryDays]).toEqual([['A1', [parseIsoDay('2026-09-03')]]]);
  expect(sideTables).toMatchObject({
    exposures: [
      { team: 'Rowing', athleteExposures: 4120 },
      { team: 'Rowin', athleteExposures: 12 },
    ],
    clearance: [{ status: 'not_cleared' }, { status: null }],
    referrals: [{ rule: 'pain' }, { rule: null }],
    work: [{ programme: null }],
  });
  expect(warnings.map(({ file, line, message }) => `${file}:${line ?? ''} ${message}`)).toEqual([
    'injuries.csv:3 date "soon" is not a date that reads one way: write YYYY-MM-DD',
    'exposures.csv: is there, and this version makes no use of exposures yet',
    'exposures.csv:3 team is no team of the roster',
    'clearance.csv:3 status "ok" is none of cleared, limited, not_cleared, pending',
    'referrals.csv:3 rule is none of the protocol',
    'work.csv:2 programme is not given',
  ]);
});

test('files that decide who is held back stop everything if they cannot be read', async () => {
  await expect(open({ 'clearance.csv': 'athlete_id,date\nA1,2026-08-03\n' })).rejects.toMatchObject({
    exitCode: 2,
    troubles: [{ file: 'clearance.csv', line: 1 }],
  });
});
