import { readdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { bilat, read, tempFolder } from './bilat.ts';
import { RUN_FILES, SMALL } from './small.ts';

const SUMMARY = `Season 2026: 3 athletes tested; 1 sheet and 7 observations in all.

To see medical staff before training: 1 athlete
A3, Fencing, tested 2026-08-17
  - Grip strength, left: pain during the test.

To take again while the athlete is in the building: 1 reading
A3: Standing height "17.5" lies outside 120 to 240 cm. Looks like 175 cm (a
  decimal point). Take it again if the athlete is still there; else mend the
  sheet, or settle it in corrections.csv (sheets/a.csv,4,6,17.5 …) with the
  action value, void or confirmed. (sheets/a.csv:4:6)

Findings by rule (athletes beyond the limit, of those tested)
rule          grade  beyond  tested  share
pain          refer       1       3   33 %
unable        act         1       3   33 %
    A3 right
grip_deficit  watch       1       2   50 %
one_side      watch       1       3   33 %
Who they are, reading by reading: findings.csv (bilat flag --format csv).

Not read: 1 cell of 23
1 implausible reading of all seasons: see above and rejects.csv.

Cautions
- A screen finds limits; it does not diagnose, and no finding is not
  clearance.
- Pain, raised pressure and marked deficits go to a licensed clinician. Local
  rules and clearance procedures come first.
- A cutoff predicts little for one athlete: most athletes beyond a limit are
  never injured, and many who are injured were inside it (Br J Sports Med
  2016;50:776-780).
- Read each finding beside its measurement error: within the error, repeat the
  test before acting on it.

Tables are in out.
`;

test('says what must be seen first, and leaves every table with its metadata', () => {
  const folder = tempFolder(SMALL);
  expect(bilat(['run'], { cwd: folder })).toEqual({ code: 0, stdout: SUMMARY, stderr: '' });
  expect(readdirSync(path.join(folder, 'out')).sort()).toEqual(RUN_FILES);
});

test('--format json is the same as data', () => {
  const { code, stdout, stderr } = bilat(['run', '--format', 'json'], { cwd: tempFolder(SMALL) });
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  expect(JSON.parse(stdout)).toMatchObject({
    season: 2026,
    athletes: 3,
    toSee: [{ athlete_id: 'A3', findings: [{ rule: 'pain', measure: 'grip' }] }],
    toRetake: [{ athlete_id: 'A3', measure: 'height', vital: false, line: 4, column: 6 }],
    cells: 23,
    rejectedCells: 1,
  });
});

test('-o names another folder, which is made; out: of screening.yaml another default', () => {
  const folder = tempFolder({ ...SMALL, 'screening.yaml': 'sheets: ["sheets/*.csv"]\nout: tables\n' });
  expect(bilat(['run'], { cwd: folder }).stdout).toContain('\nTables are in tables.\n');
  expect(readdirSync(path.join(folder, 'tables')).sort()).toEqual(RUN_FILES);
  expect(bilat(['run', '-o', 'elsewhere'], { cwd: folder }).stdout).toContain('\nTables are in elsewhere.\n');
  expect(readdirSync(path.join(folder, 'elsewhere')).sort()).toEqual(RUN_FILES);
});

describe('--fail-on', () => {
  test.each([
    ['rejects', '1 reject'],
    ['watch', '2 findings of grade watch'],
    ['act', '1 finding of grade act'],
    ['refer', '1 finding of grade refer'],
    ['rejects, refer', '1 reject and 1 finding of grade refer'],
  ])('%s: the work is done, and the exit code is 1', (names, found) => {
    const folder = tempFolder(SMALL);
    expect(bilat(['run', '--fail-on', names], { cwd: folder })).toEqual({
      code: 1,
      stdout: SUMMARY,
      stderr: `Exit code 1, because --fail-on found ${found}.\n`,
    });
    expect(readdirSync(path.join(folder, 'out')).sort()).toEqual(RUN_FILES);
  });

  test('nothing of what it names is there: exit code 0', () => {
    const sheet = 'ID,Date,Grip L (kg),Grip R (kg)\nA1,2026-08-17,40,41\n';
    const folder = tempFolder({ ...SMALL, 'sheets/a.csv': sheet });
    expect(bilat(['run', '--fail-on', 'rejects,watch,act,refer'], { cwd: folder })).toMatchObject({
      code: 0,
      stderr: '',
    });
  });

  test('with bilat ingest and bilat flag', () => {
    const folder = tempFolder(SMALL);
    const ingested = bilat(['ingest', '--fail-on', 'rejects'], { cwd: folder });
    expect(ingested).toMatchObject({ code: 1 });
    expect(ingested.stderr).toContain('Exit code 1, because --fail-on found 1 reject.\n');
    expect(bilat(['flag', '--fail-on', 'act'], { cwd: folder })).toMatchObject({ code: 1 });
  });
});

test('teams of which many are beyond a limit stand below the rule; an athlete of two teams counts in each', () => {
  const row = (id: number, right: number): string => `A${id},2026-08-17,40,${right}\n`;
  const sheet = `ID,Date,Grip L (kg),Grip R (kg)\n${[50, 50, 41, 41, 41, 41].map((right, at) => row(at + 1, right)).join('')}`;
  // Two of five fencers; of rowers two of six, and five of them are both.
  const teams = ['Rowing;Fencing', 'Rowing;Fencing', 'Rowing;Fencing', 'Rowing;Fencing', 'Rowing;Fencing', 'Rowing'];
  const roster = `athlete_id,team\n${teams.map((team, at) => `A${at + 1},${team}\n`).join('')}`;
  const { stdout } = bilat(['run'], { cwd: tempFolder({ ...SMALL, 'sheets/a.csv': sheet, 'roster.csv': roster }) });
  expect(stdout).toContain(`
rule          grade  beyond  tested  share
grip_deficit  watch       2       6   33 %
    teams: Fencing 2 of 5 (40 %); Rowing 2 of 6 (33 %)
Who they are, reading by reading: findings.csv (bilat flag --format csv).
teams: those of which 33 % or more are beyond the limit.
An athlete of two teams counts in each.
`);
});

test('a rule that flags more than half of everybody is questioned before the athletes are', () => {
  const rows = [1, 2, 3, 4, 5].map((id) => `A${id},2026-08-17,40,${id < 4 ? 50 : 41}\n`);
  const folder = tempFolder({ ...SMALL, 'sheets/a.csv': `ID,Date,Grip L (kg),Grip R (kg)\n${rows.join('')}` });
  expect(bilat(['run'], { cwd: folder }).stdout).toContain('grip_deficit flags more than half of everybody: ');
});

test('a message names the line that an editor shows', () => {
  const sheet = 'Title\r\n\r\nID,Date,Grip L (kg),Grip R (kg)\r\n"A1",2026-08-17,40,50\r\n"A\n2",2026-08-17,4O,41\r\n';
  const folder = tempFolder({ ...SMALL, 'sheets/a.csv': sheet });
  bilat(['run'], { cwd: folder });
  const [, line, column] = /a\.csv,(\d+),(\d+),[^,]*,4O,/.exec(read(folder, 'out/rejects.csv'))!;
  // The row of A2 begins on line 5; its cells after the quoted line feed stand on line 6.
  expect([line, column]).toEqual(['5', '3']);
});
