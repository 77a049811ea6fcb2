import { describe, expect, test } from 'vitest';
import { bilat, readCsv, tempFolder } from './bilat.ts';

const PROTOCOL = `bilat: 1
name: Small battery
measures:
  grip: { label: Grip strength, unit: kgf, written_in: kgf, sides: each, plausible: [1, 150], headings: [grip] }
  height: { label: Standing height, unit: cm, sides: none, plausible: [120, 240], headings: [height] }
  hop: { label: Hop, unit: cm, sides: each, plausible: [10, 300], headings: [hop] }
derived:
  hop_by_height: { label: Hop by height, percent_of: [hop, height] }
rules:
  grip_deficit: { measure: grip, field: deficit_pct, at_least: 10, grade: act, programme: grips, source: common practice }
programmes:
  grips: { label: Grip work, owner: strength, individual: Squeeze., retest_days: 42 }
everyone: [grip]
sport_groups:
  jumpers: { label: Jumpers, teams: [Volleyball], measures: [hop_by_height] }
statuses: { pain: refer, unable: act, one_side: watch }
`;
const ROSTER = `athlete_id,last_name,first_name,team,sex,left_on
A1,Emberbent,Falk,Rowing,M,
A2,Marrowbent,Kezzy,Rowing;Volleyball,F,
A3,Quarrel,Anwe,Volleyball,F,
A4,Sorrel,Fenna,Volleyball,F,2026-08-01
A5,Yarrow,Ilka,Rowing,F,
A6,Thistle,Orla,Rowing,F,
`;
const SCREENING = `teams: { Volleyball: { also: [VB] } }
sheets:
  - { files: sheets/gym.csv, station: Gym }
  - { files: sheets/hall.csv, station: Hall }
`;
const FOLDER = {
  'protocol.yaml': PROTOCOL,
  'roster.csv': ROSTER,
  'screening.yaml': SCREENING,
  // A1 has a deficit of 20 %, A2 one side, A3 pain, A6 has refused.
  'sheets/gym.csv':
    'ID,Date,Grip L,Grip R\nA1,2026-08-17,40,50\nA2,2026-08-17,40,\nA3,2026-08-17,38 P,38\nA6,2026-08-17,refused,refused\n',
  'sheets/hall.csv': 'ID,Date,Height (cm),Hop L (cm),Hop R (cm)\nA3,2026-08-17,180,150,151\n',
  'clearance.csv': 'athlete_id,date,status\nA5,2026-08-16,not_cleared\nA1,2026-08-16,cleared\n',
};
const cwd = tempFolder(FOLDER);
const coverage = (...args: string[]) => bilat(['coverage', ...args], { cwd });
const brief = (stdout: string): string[] =>
  readCsv(stdout).map(({ athlete_id, measure, state, station, retest_by }) =>
    [athlete_id, measure, state, station, retest_by].filter((cell) => cell !== '').join(' '),
  );

describe('the table', () => {
  test('has a row for each athlete who belongs to the season and test of their battery', () => {
    const { code, stdout } = coverage();
    expect(code).toBe(0);
    expect(stdout.split('\n')[0]).toBe('athlete_id,team,season,measure,state,station,retest_by');
    // 2026-08-17 and 42 days is 2026-09-28, worked out by hand: 14 days of August, 28 of September.
    expect(brief(stdout)).toEqual([
      'A1 grip done Gym 2026-09-28',
      'A2 grip partial Gym',
      'A2 height missing Hall',
      'A2 hop missing Hall',
      'A3 grip pain Gym',
      'A3 height done Hall',
      'A3 hop done Hall',
      'A5 grip held Gym',
      'A6 grip refused Gym',
    ]);
  });

  test('is looked at from a day: retests fall due, holds begin', () => {
    const state = (on: string): string[] => brief(coverage('--on', on).stdout).filter((row) => /^A[15] /.test(row));
    expect(state('2026-09-27')[0]).toBe('A1 grip done Gym 2026-09-28');
    expect(state('2026-09-28')[0]).toBe('A1 grip retest_due Gym 2026-09-28');
    expect(state('2026-08-15')[1]).toBe('A5 grip missing Gym');
  });

  test('is cut to a team, by any spelling, or a station', () => {
    expect(brief(coverage('--team', 'vb').stdout).map((row) => row.slice(0, 2))).toEqual([
      ...['A2', 'A2', 'A2'],
      ...['A3', 'A3', 'A3'],
    ]);
    expect(brief(coverage('--station', 'hall').stdout)).toEqual([
      'A2 height missing Hall',
      'A2 hop missing Hall',
      'A3 height done Hall',
      'A3 hop done Hall',
    ]);
  });

  test('comes as JSON and markdown too', () => {
    const rows = JSON.parse(coverage('--format', 'json').stdout);
    expect(rows[1]).toEqual({
      athlete_id: 'A2',
      team: 'Rowing;Volleyball',
      season: 2026,
      measure: 'grip',
      state: 'partial',
      station: 'Gym',
      retest_by: null,
    });
    expect(coverage('--format', 'markdown').stdout.split('\n')[2]).toBe(
      '| A1 | Rowing | 2026 | grip | done | Gym | 2026-09-28 |',
    );
  });

  test('is made of a table of observations as of the folder', () => {
    const observations = bilat(['ingest'], { cwd }).stdout;
    const piped = bilat(['coverage', '-'], { cwd, input: observations });
    expect([piped.code, piped.stdout]).toEqual([0, coverage().stdout]);
  });
});

describe('the text', () => {
  test('says how far it is, who is to be called, who is not, and what is due', () => {
    expect(coverage('--format', 'table', '--on', '2026-09-30').stdout).toBe(
      `Season 2026, looked at from 2026-09-30: 4 of 9 tests done (44 %), those that
hurt among them.

Done, of those expected
team        Gym  Hall
Rowing      1/4   0/2
Volleyball  1/2   2/4

To call, by station
Gym: 1 athlete
  A2, Rowing;Volleyball: Grip strength
Hall: 1 athlete
  A2, Rowing;Volleyball: Standing height, Hop

Held by medical staff: not to be called
  A5, Rowing: Grip strength

Medical staff decide whether they come again
  A3, Volleyball, in pain: Grip strength
  A6, Rowing, refused: Grip strength

To be tested again by now
Grip strength: A1 (since 2026-09-28)

A screen finds limits; it does not diagnose, and no finding is not clearance.
`,
    );
  });

  test('says when the next retests are due', () => {
    expect(coverage('--format', 'table').stdout).toContain('\nLater 1 test is due again, the first by 2026-09-28.\n');
  });

  test('counts by another thing', () => {
    const lines = (by: string): string[] => {
      const { stdout } = coverage('--by', by, '--on', '2026-09-30');
      return stdout.split('\n\n')[1].split('\n');
    };
    expect(lines('station')).toEqual([
      'Tests, by station',
      'station  done  to call  held  staff decide  retest due',
      'Gym       2/5        1     1             2           1',
      'Hall      2/4        2',
    ]);
    expect(lines('measure').slice(2)).toEqual([
      'Grip strength     2/5        1     1             2           1',
      'Standing height   1/2        1',
      'Hop               1/2        1',
    ]);
    expect(lines('athlete').slice(2)).toEqual([
      'A1        1/1                                        1',
      'A2        0/3        3',
      'A3        3/3                            1',
      'A5        0/1              1',
      'A6        0/1                            1',
    ]);
    expect(lines('team')[2]).toBe('Rowing       1/6        3     1             1           1');
  });

  test('has names only where they are asked for', () => {
    expect(coverage('--format', 'table').stdout).not.toMatch(/Kezzy|Marrowbent/);
    expect(coverage('--format', 'table', '--names').stdout).toContain('  A2 Kezzy Marrowbent, Rowing;Volleyball: ');
  });

  test('of a coach names no test and does not count what is done', () => {
    const { stdout } = coverage('--format', 'table', '--audience', 'coach', '--on', '2026-09-30');
    expect(stdout).toBe(`Season 2026, looked at from 2026-09-30.

To call, by station
Gym: 1 athlete
  A2, Rowing;Volleyball
Hall: 1 athlete
  A2, Rowing;Volleyball

Held by medical staff: not to be called
  A5, Rowing

To be tested again by now
Tests: A1 (since 2026-09-28)

A screen finds limits; it does not diagnose, and no finding is not clearance.
`);
    const tally = coverage('--format', 'table', '--audience', 'coach', '--by', 'station').stdout;
    expect(tally).toContain('station  to call  held  retest due\nGym            1     1\nHall           1\n');
  });

  test('where nothing was read says so', () => {
    const empty = tempFolder({ 'protocol.yaml': PROTOCOL, 'sheets/a.csv': 'ID,Date,Grip L,Grip R\nA1,2026-08-17,,\n' });
    const { code, stdout } = bilat(['coverage', '--format', 'table'], { cwd: empty });
    expect([code, stdout.split('\n')[0]]).toEqual([0, 'No season: nothing was read yet.']);
  });
});

describe('wrong use', () => {
  test.each([
    [['--team', 'Rowign'], 'error: --team: there is no team Rowign. Did you mean Rowing?\n'],
    [['--team', 'Curling'], 'error: --team: there is no team Curling. Known: Rowing, Volleyball.\n'],
    [['--station', 'Kitchen'], 'error: --station: there is no station Kitchen. Known: Gym, Hall.\n'],
    [['--on', '17/08/2026'], 'error: --on: "17/08/2026" is no day; write YYYY-MM-DD, or today\n'],
    [
      ['--by', 'team', '--format', 'csv'],
      'error: --by counts in the text, and a table has every row: leave --by out, or take --format table\n',
    ],
    [
      ['--by', 'measure', '--audience', 'coach', '--format', 'table'],
      'error: --by measure: a coach does not see which test it is: --by team, station or athlete\n',
    ],
  ])('%j', (args, message) => {
    const { code, stdout, stderr } = coverage(...args);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toContain(message);
  });

  test('a choice that there is not', () => {
    const { code, stderr } = coverage('--by', 'sport');
    expect(code).toBe(2);
    expect(stderr).toContain('team, station, measure, athlete');
  });
});

test('the run writes the same table as the command', () => {
  const folder = tempFolder(FOLDER);
  expect(bilat(['run'], { cwd: folder }).code).toBe(0);
  const { stdout, stderr } = bilat(['coverage'], { cwd: folder });
  expect(stdout).toBe(bilat(['coverage'], { cwd }).stdout);
  expect(stderr).not.toContain('read anew');
});
