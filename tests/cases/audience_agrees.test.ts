import { describe, expect, test } from 'vitest';
import { bilat, readCsv, tempFolder } from './bilat.ts';

/** A1 has 165 mmHg and was cleared on the next day, A3 133 mmHg, A4 a weak knee that was hurt, A5 no reading of pressure. */
const FILES = {
  'protocol.yaml': `bilat: 1
name: Battery with histories
measures:
  knee: { label: Knee strength, unit: N, sides: each, plausible: [10, 900], headings: [knee] }
  hip: { label: Hip strength, unit: N, sides: each, plausible: [10, 900], headings: [hip] }
  systolic: { label: Systolic pressure, unit: "mm[Hg]", sides: none, better: lower, plausible: [60, 260], headings: [sys] }
rules:
  knee_after_injury: { measure: knee, field: worse, below: 200, grade: act, programme: knee_again, history: { region: knee, side: same }, source: common practice }
  hip_low: { measure: hip, field: worse, below: 200, grade: act, share: yes, programme: hips, source: common practice }
  high: { measure: systolic, field: value, at_least: 140, grade: refer, programme: seated, source: common practice }
  raised: { measure: systolic, field: value, at_least: 130, grade: act, programme: seated, source: common practice }
everyone: [knee, hip, systolic]
programmes:
  knee_again: { label: Knee work, owner: strength, individual: Own knees., retest_days: 30, source: common practice }
  hips: { label: Hip work, owner: strength, shared: All hips., individual: Own hips., retest_days: 42, source: common practice }
  seated: { label: Taken again, owner: medical, individual: Sit., retest_days: 1, source: common practice }
sharing: { from_share: 0.3, min_tested: 2, at_most_programmes: 2 }
`,
  'screening.yaml': `protocol: protocol.yaml
clearance: who.csv
sheets:
  - files: sheets/*.csv
    station: Intake
`,
  'roster.csv': `athlete_id,last_name,first_name,team
A1,Umberfell,Quill,Rowing
A2,Ambermoor,Tansy,Rowing
A3,Lowdown,Zephrin,Rowing
A4,Odoway,Bram,Rowing
A5,Fenwater,Isolde,Rowing
`,
  'injuries.csv': 'athlete_id,date,region,side,days_lost\nA4,2026-01-10,knee,left,12\nA3,2026-01-10,knee,left,x9\n',
  'who.csv': 'athlete_id,date,status,region,side,until\nA1,2026-08-18,cleared,,,\nA2,2026-08-18,maybe,,,\n',
  'sheets/a.csv': `ID,Date,Knee L (N),Knee R (N),Hip L (N),Hip R (N),Sys
A1,2026-08-17,300,310,150,160,165
A2,2026-08-17,300,310,150,160,118
A3,2026-08-17,300,310,150,160,133
A4,2026-08-17,150,310,300,310,118
A5,2026-08-17,300,310,300,310,unable
`,
};
/** After the retests of all programmes are due: by hand, 1, 30 and 42 days after 2026-08-17 are 08-18, 09-16 and 09-28. */
const ON = ['--on', '2026-10-01'];

function rows(command: string, audience: string, more: readonly string[] = ON): Record<string, string>[] {
  const { code, stdout } = bilat([command, '--audience', audience, '--format', 'csv', ...more], {
    cwd: tempFolder(FILES),
  });
  expect(code).toBe(0);
  return readCsv(stdout);
}

const planned = (audience: string): string[] =>
  rows('plan', audience).map(({ scope, athlete_id, programme, rules, retest_by }) =>
    [scope, athlete_id, programme, rules, retest_by].join(' '),
  );

describe('strength staff', () => {
  test('read in the plan of no vital sign, of no rule for whoever had an injury, and of no day of medical staff', () => {
    expect(planned('strength')).toEqual([
      ...['refer A1   ', 'hold A2   ', 'shared  hips hip_low 2026-09-28', 'left_out A2 hips  '],
      ...['individual A1   ', 'individual A3   ', 'individual A4 knee_again  2026-09-16', 'individual A5   '],
    ]);
    const lines = rows('plan', 'strength');
    const told = ({ athlete_id, reason, instruction }: Record<string, string>): string[] => [
      athlete_id,
      reason,
      instruction,
    ];
    expect(lines.slice(-2).map(told)).toEqual([
      ['A4', 'Medical staff decide.', 'Knee work: Own knees.'],
      ['A5', 'Medical staff see the athlete.', 'Medical staff see the athlete.'],
    ]);
    expect(JSON.stringify(lines)).not.toMatch(/pressure|mmHg|injury/i);
  });

  test('get no finding and no share of such a rule, and no share that counts vital signs', () => {
    expect(rows('flag', 'strength', []).map(({ athlete_id, rule }) => `${athlete_id} ${rule}`)).toEqual(
      ['A1', 'A2', 'A3'].map((athlete) => `${athlete} hip_low`),
    );
    expect(rows('cohort', 'strength', ['--by', 'all']).map(({ rule }) => rule)).toEqual(['hip_low']);
    // As A5 was unable at a vital sign, this is what the other counts would tell.
    const whole = rows('cohort', 'medical', ['--by', 'all', '--rule', 'unable,one_side']);
    expect(whole.map(({ rule, unable }) => `${rule} ${unable}`)).toEqual(['unable 1', 'one_side 1']);
  });

  test('are not told by run that the protocol has no programme where they are not shown it', () => {
    const { stdout } = bilat(['run', '--audience', 'strength', ...ON], { cwd: tempFolder(FILES) });
    expect(stdout).toContain('No programme shown: staff decide (medical staff): A1, A3, A5.\n');
    expect(stdout).not.toMatch(/No programme in the protocol|knee_after_injury|unable/);
  });

  test.each(['ingest', 'derive', 'flag', 'cohort', 'plan', 'coverage', 'outliers', 'forms'])(
    'get no note of injuries and clearance from %s',
    (command) => {
      const cwd = tempFolder(FILES);
      const more = command === 'forms' ? ['--station', 'Intake', '--team', 'Rowing'] : [];
      const said = (audience: string): string => bilat([command, '--audience', audience, ...more], { cwd }).stderr;
      expect(said('medical')).toContain('note: injuries.csv:3:5: days_lost "x9"');
      expect(said('medical')).toContain('note: who.csv:3:3: status "maybe"');
      expect(said('strength')).toMatch(/^note: notes that are not for strength staff are held back/);
      expect(said('strength')).not.toMatch(/injuries|x9|who\.csv|maybe/);
    },
  );
});

describe('a coach', () => {
  test('reads of each athlete one thing only', () => {
    expect(planned('coach')).toEqual([
      ...['hold A1   ', 'hold A2   ', 'shared  hips  2026-09-28', 'left_out A1 hips  ', 'left_out A2 hips  '],
      ...['individual A3   ', 'individual A4   ', 'individual A5   '],
    ]);
    // A1 is cleared since, and does it with the team: this is what medical staff read.
    expect(planned('medical').filter((line) => line.startsWith('left_out'))).toEqual(['left_out A2 hips  ']);
  });

  test('is told of the rows that are not shown, not of those that stand for one', () => {
    const { stderr } = bilat(['plan', '--audience', 'coach', '--format', 'csv', ...ON], { cwd: tempFolder(FILES) });
    // The work of A1 beside the referral.
    expect(stderr).toContain('note: 1 row is not shown to a coach\n');
  });

  test('reads in coverage of no day to come back that tells of pressure or an injury', () => {
    const briefly = ({ athlete_id, state, station, retest_by }: Record<string, string>): string =>
      [athlete_id, state, station, retest_by].join(' ');
    expect(rows('coverage', 'coach').map(briefly)).toEqual([
      ...['A1 retest_due Intake 2026-09-28', 'A2 held Intake ', 'A3 retest_due Intake 2026-09-28'],
    ]);
    // One day after the reading, and 30 days after the test of the knee that was hurt.
    expect(rows('coverage', 'medical').map(({ retest_by }) => retest_by)).toEqual(
      expect.arrayContaining(['2026-08-18', '2026-09-16']),
    );
  });

  test('is told by run who is not with the team, whom to ask, and nothing of what --fail-on found', () => {
    const args = ['run', '--audience', 'coach', '--fail-on', 'refer,act', ...ON];
    const { code, stdout, stderr } = bilat(args, { cwd: tempFolder(FILES) });
    expect(code).toBe(1);
    expect(stderr).toBe('Exit code 1, because --fail-on found something.\n');
    expect(stdout).toContain('Not available until medical staff say so\nA1, A2\n');
    expect(stdout).toContain('  Without A1\n  Without A2\n');
    expect(stdout).toContain('No programme shown: staff decide (medical staff): A3, A5.\n');
    expect(stdout).toContain('No programme shown: staff decide (strength staff): A4.\n');
    expect(stdout).toContain('To be tested again by now: A1, A3\n');
  });
});
