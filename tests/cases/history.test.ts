import { describe, expect, test } from 'vitest';
import { bilat, read, readCsv, tempFolder } from './bilat.ts';

const PROTOCOL = `bilat: 1
name: Hips
measures:
  hip: { label: Hip adduction strength, unit: N, sides: each, plausible: [10, 1000], headings: [hip] }
rules:
  weak: { measure: hip, below: 200, grade: watch, region: groin, source: common practice }
  weak_again: { measure: hip, below: 250, grade: act, region: groin, source: common practice, history: { region: groin, within_days: 365 } }
  uneven_again: { measure: hip, field: deficit_pct, at_least: 5, grade: act, source: common practice, history: { region: groin, side: any } }
`;

/** Everybody is weak on both sides, and by 10 % weaker on the left. */
const SHEET = `ID,Date,Team,Hip L (N),Hip R (N)
A1,2026-08-17,Rowing,171,190
A2,2026-08-17,Rowing,171,190
A3,2026-08-17,Rowing,171,190
A4,2026-08-17,Rowing,171,190
A5,2026-08-17,Rowing,171,190
`;

/** A1 left, A2 right but too long ago for within_days, A3 an unknown side and day, A4 on the day of the test. */
const FOLDER = {
  'protocol.yaml': PROTOCOL,
  'roster.csv': 'athlete_id,team\nA1,Rowing\nA2,Rowing\nA3,Rowing\nA4,Rowing\nA5,Rowing\n',
  'injuries.csv':
    'athlete_id,date,region,side\nA1,2025-10-14,Groin,L\nA2,2025-08-16,groin,R\nA4,2026-08-17,groin,L\nA5,2026-01-10,knee,L\n',
  'history.csv': 'athlete_id,region,side,date\nA3, GROIN ,,\n',
  'sheets/hip.csv': SHEET,
};

function findingsOf(args: readonly string[], cwd: string): string[] {
  const { code, stdout } = bilat(['flag', ...args], { cwd });
  expect(code).toBe(0);
  return readCsv(stdout).map(({ athlete_id, rule, side, previous_injury }) =>
    [athlete_id, rule, side, previous_injury].join(' ').trim(),
  );
}

/** Worked out by hand from the folder above. */
const EXPECTED = [
  'A1 weak left same_side',
  'A1 weak right other_side',
  'A1 weak_again left same_side',
  'A1 uneven_again left',
  'A2 weak left other_side',
  'A2 weak right same_side',
  'A2 uneven_again left',
  'A3 weak left side_unknown',
  'A3 weak right side_unknown',
  'A3 weak_again left side_unknown',
  'A3 weak_again right side_unknown',
  'A3 uneven_again left',
  'A4 weak left',
  'A4 weak right',
  'A5 weak left',
  'A5 weak right',
];

describe('rules narrowed by history', () => {
  test('judge those who were hurt there before, on the side that was hurt; findings say how it lies to them', () => {
    expect(findingsOf([], tempFolder(FOLDER))).toEqual(EXPECTED);
  });

  test('run writes the same', () => {
    const cwd = tempFolder(FOLDER);
    expect(bilat(['run'], { cwd }).code).toBe(0);
    expect(read(cwd, 'out/findings.csv')).toBe(bilat(['flag'], { cwd: tempFolder(FOLDER) }).stdout);
  });

  test('without any list of injuries judge nobody, and check says so', () => {
    const { 'injuries.csv': _, 'history.csv': __, ...rest } = FOLDER;
    const cwd = tempFolder(rest);
    expect(findingsOf([], cwd).every((line) => / weak (left|right)$/.test(line))).toBe(true);
    const { code, stdout } = bilat(['check', '--format', 'json'], { cwd });
    expect(code).toBe(0);
    const problems = JSON.parse(stdout) as { severity: string; code: string; line: number }[];
    expect(problems.filter((problem) => problem.code === 'history_without_file')).toMatchObject([
      { severity: 'warning', line: 7 },
      { severity: 'warning', line: 8 },
    ]);
  });

  test('of a region that no list names are named by check; a list that cannot be read says nothing', () => {
    const codes = (files: Readonly<Record<string, string>>): string[] =>
      JSON.parse(bilat(['check', '--format', 'json'], { cwd: tempFolder({ ...FOLDER, ...files }) }).stdout).map(
        ({ code }: { code: string }) => code,
      );
    const knees = 'athlete_id,date,region,side\nA1,2025-10-14,knee,L\n';
    const none = 'athlete_id,region,side,date\n';
    const count = (found: readonly string[]) => found.filter((code) => code.startsWith('history_region')).length;
    expect(count(codes({ 'injuries.csv': knees, 'history.csv': none }))).toBe(2);
    expect(count(codes({}))).toBe(0);
    expect(count(codes({ 'injuries.csv': knees, 'history.csv': '' }))).toBe(0);
  });

  test('no message of a finding tells of the injury', () => {
    const { stdout } = bilat(['flag'], { cwd: tempFolder(FOLDER) });
    for (const { message } of readCsv(stdout)) expect(message).not.toMatch(/injur|groin|2025/i);
  });
});
