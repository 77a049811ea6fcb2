import { readdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { bilat, read, tempFolder } from './bilat.ts';
import { RUN_FILES, SMALL } from './small.ts';

const SUMMARY = `Season 2026: 3 athletes tested; 1 sheet and 7 observations in all. Looked at
from 2026-08-17.

To see medical staff: 1 athlete
Before training: 1
A3, Fencing, tested 2026-08-17
  - Grip strength, left: pain during the test. [pain]

To take again while the athlete is in the building: 1 reading
A3: Standing height "17.5" lies outside 120 to 240 cm. Looks like 175 cm (a
  decimal point). Take it again if the athlete is still there; else mend the
  sheet, or settle it in corrections.csv (sheets/a.csv,4,6,17.5 …) with the
  action value, void or confirmed. (sheets/a.csv:4:6)

What whole teams do: 0 programmes
None.

Who does what alone: 1 athlete
No programme in the protocol: staff decide (medical staff): after medical
  staff have seen them: A3 right.
There is no clearance file: nobody is known to be cleared, and nobody is held
back.
Reasons, dates and the order in which to act: plan.csv (bilat plan).

Findings by rule (athletes beyond the limit, of those tested)
rule          grade  beyond  tested  share
pain          refer       1       3   33 %
unable        act         1       3   33 %
grip_deficit  watch       1       2   50 %
one_side      watch       1       3   33 %
By team, with intervals: bilat cohort. Reading by reading: findings.csv.

Who is missing: 4 of 6 tests are done
No station: A2, A3
In pain, unable or refused, medical staff decide: A3
What they lack: coverage.csv (bilat coverage).

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

/** Five rowers, three of them below a limit that may be shared; the programme is for a whole team. */
const SHARED = {
  'protocol.yaml': `bilat: 1
measures:
  grip: { label: Grip strength, unit: kgf, sides: none, error: { sem: 1, basis: occasions } }
rules:
  grip_low: { measure: grip, below: 30, grade: act, programme: grip_work, source: common practice }
everyone: [grip]
programmes:
  grip_work: { label: Grip work, owner: strength, shared: Hang from a bar., individual: Squeeze., retest_days: 42 }
`,
  'sheets/a.csv': `ID,Date,Team,Grip (kg)
${[20, 21, 22, 40, 41].map((grip, at) => `A${at + 1},2026-08-17,Rowing,${grip}`).join('\n')}
B1,2026-08-17,Fencing,20
B2,2026-08-17,Fencing,40
B3,2026-08-17,Fencing,40
B4,2026-08-17,Fencing,40
`,
  'clearance.csv': 'athlete_id,date,status\nA2,2026-08-18,pending\nA1,2026-08-18,cleared\n',
};

test('what a team shares is done by the team, what one athlete needs by that athlete; who is held does neither', () => {
  const { stdout } = bilat(['run'], { cwd: tempFolder(SHARED) });
  expect(stdout).toContain(`
What whole teams do: 1 programme
Rowing: Grip work (strength staff). From 2026-08-18. Test again by 2026-09-28.
  3 of 5 tested (60 %, 95 % interval 23 to 88 %): Grip strength below 30 kgf. 4
  of the team do it. Left out: A2.
  Grip work: Hang from a bar.
  Without A2: Clearance pending since 2026-08-18.

Who does what alone: 1 athlete
Grip work (strength staff): B1. First retest by 2026-09-28.

On hold: 1 athlete
A2: Hold: no training until medical staff say so.
`);
});

test('--audience coach: who is available, what is done and when, and no reading, reason or finding', () => {
  const { stdout } = bilat(['run', '--audience', 'coach'], { cwd: tempFolder(SHARED) });
  expect(stdout).toBe(`Season 2026, looked at from 2026-08-18.

Not available until medical staff say so
A2

What whole teams do: 1 programme
Rowing: Grip work (strength staff). From 2026-08-18. Test again by 2026-09-28.
  Grip work: Hang from a bar.
  Without A2

Who does what alone: 1 athlete
Grip work (strength staff): B1. First retest by 2026-09-28.

Who is missing
Nobody.

A screen finds limits; it does not diagnose, and no finding is not clearance.
`);
});

test('a reading of a season to come that could not be read does not hide the season that was', () => {
  const sheets = { ...SMALL, 'sheets/b.csv': 'ID,Date,Height (cm)\nA1,2027-08-17,17.5\n' };
  const { stdout } = bilat(['run'], { cwd: tempFolder(sheets) });
  expect(stdout).toContain('Season 2026: 3 athletes tested;');
  expect(stdout).toContain('\nTo see medical staff: 1 athlete\nBefore training: 1\nA3, Fencing');
  expect(stdout).toContain('(sheets/b.csv:2:3)');
});

test('a season with few of the athletes of the one before is questioned at the top', () => {
  const rows = [1, 2, 3, 4, 5, 6].map((id) => `A${id},2026-08-17,180\n`).join('');
  const sheets = { 'sheets/a.csv': `ID,Date,Height (cm)\n${rows}A1,2027-08-17,180\n` };
  const { stdout } = bilat(['run'], { cwd: tempFolder({ ...SMALL, ...sheets }) });
  expect(stdout.replaceAll('\n', ' ')).toContain(
    'Only 1 athlete of season 2027, and 6 of season 2026: is a year mistyped? Then all that follows is of the wrong season.',
  );
});

test('a day of the desk far behind the readings is not taken for today', () => {
  const referrals = 'athlete_id,date,rule,seen_on,outcome,closed_on\nA3,2026-08-17,pain,,,2062-08-18\n';
  const { stdout } = bilat(['run'], { cwd: tempFolder({ ...SMALL, 'referrals.csv': referrals }) });
  expect(stdout).toContain('To see medical staff: 1 athlete\n');
  expect(stdout.replaceAll(/\n +/g, ' ')).toContain(
    '- clearance, referrals or work tell of 2062-08-18, more than 180 days after the last reading: look for a mistyped year,',
  );
});

test('athletes of whom an existing clearance file says nothing are named beside the work', () => {
  const { stdout } = bilat(['run'], { cwd: tempFolder(SHARED) });
  expect(stdout.replaceAll('\n', ' ')).toContain(
    '7 athletes have no line in clearance.csv, so nothing says that they are cleared: A3, A4, A5, B1, B2, B3, B4.',
  );
});

test('--on looks at it from another day, and stands in the metadata', () => {
  const folder = tempFolder(SHARED);
  const { stdout } = bilat(['run', '--on', '2026-08-17'], { cwd: folder });
  expect(stdout).not.toContain('On hold');
  expect(JSON.parse(read(folder, 'out/plan-metadata.json'))['bilat:command']).toBe('bilat run --on 2026-08-17');
  expect(bilat(['run', '--on', '17/8/2026'], { cwd: folder })).toMatchObject({
    code: 2,
    stderr: 'error: --on: "17/8/2026" is no day; write YYYY-MM-DD, or today\n',
  });
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
