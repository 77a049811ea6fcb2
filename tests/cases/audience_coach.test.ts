import { readdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { FORMATS } from '../../src/cli/options.ts';
import { bilat, copyOfExamples, read, readCsv, tempFolder } from './bilat.ts';

/** Never in what a coach reads. */
const NEVER = /pain|pressure|mass|weight|injur/i;
const ENDINGS = ['csv', 'json', 'md'];

/** A folder in which whatever a protocol can name is named after what a coach must not hear of. */
const HOSTILE = {
  'protocol.yaml': `bilat: 1
name: Pain and pressure
measures:
  grip: { label: Grip under pressure, unit: kgf, sides: each, plausible: [1, 150], headings: [grip] }
  body_mass: { label: Body mass, unit: kg, sides: none, better: between, plausible: [30, 250], headings: [wt] }
  systolic: { label: Systolic pressure, unit: "mm[Hg]", sides: none, better: lower, plausible: [60, 260], headings: [sys] }
rules:
  grip_pain_deficit: { measure: grip, field: deficit_pct, at_least: 10, grade: act, share: yes, programme: pain_clinic, source: common practice }
  heavy: { measure: body_mass, field: value, above: 90, grade: act, programme: cut, source: common practice }
  high: { measure: systolic, field: value, at_least: 140, grade: refer, programme: pressure_again, source: common practice }
everyone: [grip, body_mass, systolic]
programmes:
  pain_clinic: { label: Pain clinic, owner: strength, shared: Weight room without pain., individual: No painful weights., retest_days: 42, source: common practice }
  cut: { label: Weight cut, owner: strength, individual: Lose mass., source: common practice }
  pressure_again: { label: Pressure again, owner: medical, individual: Take the pressure again., source: common practice }
sharing: { from_share: 0.3, min_tested: 2, at_most_programmes: 2 }
`,
  'screening.yaml': 'protocol: protocol.yaml\nsheets:\n  - files: sheets/*.csv\n    station: Blood pressure\n',
  'roster.csv':
    'athlete_id,last_name,first_name,team\nA1,Umberfell,Quill,Rowing\nA2,Ambermoor,Tansy,Rowing\nA3,Lowdown,Zephrin,Rowing\nA4,Odoway,Bram,Rowing\n',
  'injuries.csv': 'athlete_id,date,region,side,days_lost\nA1,2026-01-10,wrist,left,12\n',
  'clearance.csv': 'athlete_id,date,status,region,side,until\nA4,2026-08-10,not_cleared,wrist injury,left,\n',
  'sheets/pain.csv': `ID,Date,Grip L (kg),Grip R (kg),Wt (kg),Sys
A1,2026-08-17,40,50,95,118
A2,2026-08-17,30 P,41,70,152
A3,2026-08-17,38,,66,
A4,2026-08-17,38,52,92,
`,
};

const COLLEGE = path.join(copyOfExamples(), 'examples/college');

const TEXTS = [
  ['--by', 'programme'],
  ['--by', 'athlete'],
  ['--team', 'Rowing'],
  ['--owner', 'strength', '--limit', '3'],
];

/** What a command says for a coach in every format; asserts that it says something, and nothing of the body. */
function expectFit(command: string, cwd: string, more: readonly string[] = []): void {
  for (const format of FORMATS) {
    const { code, stdout, stderr } = bilat([command, '--audience', 'coach', '--format', format, ...more], { cwd });
    expect([code, NEVER.exec(stdout)?.[0]]).toEqual([0, undefined]);
    expect(stdout.split('\n').length).toBeGreaterThan(3);
    expect(NEVER.exec(stderr)?.[0]).toBeUndefined();
  }
}

describe.each(['plan', 'coverage'])('no output of %s for a coach tells of the body', (command) => {
  const cwd = tempFolder(HOSTILE);

  test('in the example, in every format', () => expectFit(command, COLLEGE, ['--names']));

  test.each([[[]], [['--names']], [['--on', '2026-12-01']]])(
    'in a folder that names it everywhere, in every format %s',
    (more) => expectFit(command, cwd, more),
  );

  test('in files, what is said beside them included', () => {
    const out = tempFolder();
    for (const ending of ENDINGS) {
      const file = path.join(out, `x.${ending}`);
      expect(bilat([command, '--audience', 'coach', '-o', file], { cwd }).code).toBe(0);
    }
    const files = readdirSync(out);
    expect(files).toHaveLength(2 * ENDINGS.length);
    for (const file of files) expect([file, NEVER.exec(read(out, file))?.[0]]).toEqual([file, undefined]);
  });

  test('while medical staff read it under the same columns, or else this would say nothing', () => {
    const [medical, coach] = ['medical', 'coach'].map(
      (audience) => bilat([command, '--audience', audience, '--format', 'csv'], { cwd }).stdout,
    );
    expect(medical).toMatch(NEVER);
    expect(coach.split('\n')[0]).toBe(medical.split('\n')[0]);
  });
});

describe('blank sheets for a coach', () => {
  test('head no column with a vital sign or body mass, and that is said', () => {
    const args = ['forms', '--station', 'Intake', '--team', 'Rowing'];
    const [coach, medical] = [['--audience', 'coach'], []].map((more) => bilat([...args, ...more], { cwd: COLLEGE }));
    expect([coach.code, NEVER.exec(coach.stdout)?.[0]]).toEqual([0, undefined]);
    expect(coach.stdout.split('\n')[0]).toMatch(/Standing height \(cm\)/);
    expect(coach.stdout.split('\n')[0]).not.toMatch(/pulse|systolic|diastolic/i);
    // Body mass, two pressures and the pulse of the station.
    expect(coach.stderr).toContain('note: 4 measures are not on the sheets of a coach\n');
    expect(medical.stdout).toMatch(NEVER);
    expect(medical.stdout.split('\n')).toHaveLength(coach.stdout.split('\n').length);
  });

  test('are refused where nothing is left to head a column', () => {
    const cwd = tempFolder(HOSTILE);
    const { code, stdout, stderr } = bilat(['forms', '--team', 'Rowing', '--audience', 'coach'], { cwd });
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toContain('error: none of these measures is for the sheet of a coach; leave out --audience coach\n');
  });
});

describe('what a coach does read', () => {
  const cwd = tempFolder(HOSTILE);

  test.each(TEXTS.map((more) => [more]))('of the plan, however it is ordered or cut: %s', (more) => {
    const { code, stdout } = bilat(['plan', '--audience', 'coach', '--format', 'table', ...more], { cwd });
    expect([code, NEVER.exec(stdout)?.[0]]).toEqual([0, undefined]);
    expect(stdout).toContain('Not available until medical staff say so.');
  });

  test('of the plan: who is not available, and that there is work', () => {
    const rows = readCsv(bilat(['plan', '--audience', 'coach', '--format', 'csv'], { cwd }).stdout);
    const said = rows.map(({ scope, athlete_id, instruction }) => `${scope} ${athlete_id}: ${instruction}`);
    // A2 has a pressure of 152 and pain, A4 is not cleared, A1 a deficit of 20 % and 95 kg.
    expect(said).toContain('hold A2: Not available until medical staff say so.');
    expect(said).toContain('hold A4: Not available until medical staff say so.');
    expect(said).toContain('individual A1: See strength staff.');
    for (const { rules, reason, grade, side, programme } of rows) {
      expect([rules, reason, grade, side, programme]).toEqual(['', '', '', '', '']);
    }
  });

  test('of coverage: who still lacks something, and who is held', () => {
    const rows = readCsv(bilat(['coverage', '--audience', 'coach', '--format', 'csv'], { cwd }).stdout);
    // A3 lacks the right side and a reading of pressure; the station is called after one.
    expect(rows.map(({ athlete_id, state }) => `${athlete_id} ${state}`)).toEqual([
      ...['A3 partial', 'A3 missing'],
      'A4 held',
    ]);
    for (const { measure, station } of rows) expect([measure, station]).toEqual(['', '']);
  });
});
