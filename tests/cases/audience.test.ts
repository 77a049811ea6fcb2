import { describe, expect, test } from 'vitest';
import { bilat, read, readCsv, tempFolder } from './bilat.ts';

const PROTOCOL = `bilat: 1
name: Small battery
measures:
  grip: { label: Grip strength, unit: kgf, sides: each, plausible: [1, 150], headings: [grip] }
  body_mass: { label: Body mass, unit: kg, sides: none, better: between, plausible: [30, 250], headings: [wt] }
  systolic: { label: Systolic pressure, unit: "mm[Hg]", sides: none, better: lower, plausible: [60, 260], headings: [sys] }
  diastolic: { label: Diastolic pressure, unit: "mm[Hg]", sides: none, better: lower, plausible: [30, 160], headings: [dia] }
derived:
  grip_per_kg: { label: Grip per kilogram, per: [grip, body_mass] }
  between: { label: Upper minus lower, difference: [systolic, diastolic] }
compounds:
  blood_pressure: { headings: [bp], parts: [systolic, diastolic], between: "/" }
rules:
  grip_deficit: { measure: grip, field: deficit_pct, at_least: 10, grade: watch, source: common practice }
  systolic_high: { measure: systolic, field: value, at_least: 140, grade: refer, source: common practice }
  between_wide: { measure: between, field: value, above: 60, grade: watch, source: common practice }
everyone: [grip, body_mass, systolic, diastolic, between]
`;
const SHEET = `ID,Date,Grip L (kg),Grip R (kg),Wt (kg),BP
A1,2026-08-17,40,50,82.5,161/88
A2,2026-08-17,40 P,41,7O,118/7Z
A3,2026-08-17,38,39,66,121/79
`;
const folder = (): string => tempFolder({ 'protocol.yaml': PROTOCOL, 'sheets/a.csv': SHEET });

describe('strength staff', () => {
  test('get observations without vital signs, and are told of how many rows', () => {
    const { code, stdout, stderr } = bilat(['ingest', '--audience', 'strength', '--rejects', 'r.csv'], {
      cwd: folder(),
    });
    expect(code).toBe(0);
    expect(readCsv(stdout).map(({ athlete_id, measure, raw }) => `${athlete_id} ${measure} ${raw}`)).toEqual([
      ...['A1 grip 40', 'A1 grip 50', 'A1 body_mass 82.5', 'A2 grip 40 P', 'A2 grip 41'],
      ...['A3 grip 38', 'A3 grip 39', 'A3 body_mass 66'],
    ]);
    // 161/88 and 121/79 are two readings each, 118/7Z is one and a reject.
    expect(stderr).toContain('note: 6 rows are not shown to strength staff\n');
  });

  test('get no reject of a vital sign', () => {
    const cwd = folder();
    bilat(['ingest', '--audience', 'strength', '--rejects', 'theirs.csv', '-o', 'o.csv'], { cwd });
    bilat(['ingest', '--rejects', 'all.csv', '-o', 'all-o.csv'], { cwd });
    const raws = (file: string): string[] => readCsv(read(cwd, file)).map(({ raw }) => raw);
    expect(raws('all.csv')).toEqual(['7O', '118/7Z']);
    expect(raws('theirs.csv')).toEqual(['7O']);
  });

  test('get results and findings without vital signs or what is made of them', () => {
    const cwd = folder();
    const derived = bilat(['derive', '--audience', 'strength'], { cwd });
    const measures = new Set(readCsv(derived.stdout).map(({ measure }) => measure));
    expect([...measures].sort()).toEqual(['body_mass', 'grip', 'grip_per_kg']);
    expect(derived.stderr).toContain('rows are not shown to strength staff\n');
    const flagged = bilat(['flag', '--audience', 'strength'], { cwd });
    expect(readCsv(flagged.stdout).map(({ athlete_id, rule }) => `${athlete_id} ${rule}`)).toEqual([
      'A1 grip_deficit',
      'A2 pain',
    ]);
    expect(flagged.stderr).toContain('note: 2 rows are not shown to strength staff\n');
  });

  test('are told by --fail-on of what they are not shown', () => {
    const { code, stderr } = bilat(['flag', '--audience', 'strength', '--fail-on', 'refer'], { cwd: folder() });
    expect(code).toBe(1);
    // The pressure of A1 and the pain of A2.
    expect(stderr).toContain('Exit code 1, because --fail-on found 2 findings of grade refer.\n');
  });
});

describe('medical staff', () => {
  test.each(['ingest', 'derive', 'flag'])('get the same from %s as without the option', (command) => {
    const cwd = folder();
    const [plain, medical] = [[], ['--audience', 'medical']].map((option) => bilat([command, ...option], { cwd }));
    expect(medical).toEqual(plain);
    expect(plain.stdout).toContain('systolic');
    expect(plain.stderr).not.toContain('not shown');
  });
});

describe('a coach', () => {
  test.each(['ingest', 'derive', 'flag', 'outliers', 'cohort'])(
    'is sent on by %s, before anything is read',
    (command) => {
      const { code, stdout, stderr } = bilat([command, '--audience', 'coach', '-o', 'x.csv'], { cwd: tempFolder() });
      expect(code).toBe(2);
      expect(stdout).toBe('');
      expect(stderr).toBe(
        `error: bilat ${command} shows readings and deficits, and a coach sees neither: bilat plan --audience coach or bilat coverage --audience coach\n`,
      );
    },
  );
});

test('an audience that there is not is answered with those that there are', () => {
  const { code, stderr } = bilat(['flag', '--audience', 'parents'], { cwd: folder() });
  expect(code).toBe(2);
  expect(stderr).toContain("argument 'parents' is invalid. Allowed choices are coach, strength, medical.");
});
