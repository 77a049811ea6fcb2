import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { bilat, type Ended, ROOT, read, readCsv, tempFolder } from './bilat.ts';

/**
 * The sheets come from another program, foreign/make.py, which states what is in them and uses nothing of this project.
 * The commands are those of the README. Each edit is one that a message has asked for, but for two things that only staff
 * know: the day of a sheet that names none, and which groups a team belongs to.
 */
const FOREIGN = path.join(ROOT, 'tests/cases/foreign');
const SHEETS = ['PPE_intake_8-15.csv', 'hip_strength_ROM.csv', 'shoulder_jump.csv'];

const README = read(ROOT, 'README.md');

/** The commands under the heading of the README that speaks of ten minutes. */
function commandsOfReadme(): string[] {
  const from = README.indexOf('## Ten minutes with your own sheets');
  expect(from).toBeGreaterThan(0);
  const part = README.slice(from, README.indexOf('\n## ', from + 4));
  const blocks = [...part.matchAll(/```sh\n([\s\S]*?)```/g)].map(([, text]) => text.trimEnd());
  return blocks.flatMap((text) => text.split('\n'));
}

const oneLine = (text: string): string => text.replace(/\s+/g, ' ');

test('three sheets of strangers are screened with the starter in at most six commands', () => {
  const commands = commandsOfReadme();
  expect(commands.filter((line) => !line.startsWith('cd '))).toEqual([
    'bilat new preseason',
    'bilat check',
    'bilat scan',
    'bilat run',
  ]);
  const used: string[] = [];
  const cwd = tempFolder();
  const folder = path.join(cwd, 'preseason');
  const type = (line: string, where = folder): Ended => {
    used.push(line);
    return bilat(line.split(' ').slice(1), { cwd: where });
  };
  const edit = (file: string, from: string | RegExp, to: string): void => {
    const full = path.join(folder, file);
    const before = readFileSync(full, 'utf8');
    const after = before.replace(from, () => to);
    expect(after).not.toBe(before);
    writeFileSync(full, after);
  };

  expect(type(commands[0], cwd)).toMatchObject({ code: 0, stderr: '' });
  for (const sheet of SHEETS) copyFileSync(path.join(FOREIGN, sheet), path.join(folder, 'sheets', sheet));
  copyFileSync(path.join(FOREIGN, 'roster_export.csv'), path.join(folder, 'roster.csv'));

  // The list of the registrar has headings of its own; the message holds the line that settles them.
  const first = type('bilat check');
  expect(first.code).toBe(2);
  const roster = /^ +(roster:\n(?: {8,}.*\n)+)/m.exec(first.stdout);
  expect(roster?.[1]).toContain('"Student ID": athlete_id\n');
  edit('screening.yaml', /^roster: .*\n/m, roster![1]);

  // Teams are called otherwise than in the starter: the message names them, and where they go.
  const second = type('bilat check');
  expect(second.code).toBe(0);
  const unplaced = [...oneLine(second.stdout).matchAll(/teams? ("[^.]+?) (?:is|are) in no sport group/g)];
  const teams = unplaced.flatMap(([, text]) =>
    [...text.matchAll(/"([^"]+)" \(\d+ athletes\)/g)].map(([, team]) => team),
  );
  expect([...new Set(teams)].sort()).toEqual(['M Soccer', 'Swim', 'W Soccer', 'W VBall']);
  edit('protocol.yaml', /teams: \[Basketball.*\]/, 'teams: [W Soccer, M Soccer, W VBall]');
  edit('protocol.yaml', /teams: \[Ice hockey.*\]/, 'teams: [W Soccer, M Soccer]');
  edit('protocol.yaml', /teams: \[Baseball.*\]/, 'teams: [Swim, W VBall]');
  edit('protocol.yaml', /teams: \[Track and field.*\]/, 'teams: [W Soccer, M Soccer]');

  // Two sheets name no day, and one has a misspelt heading.
  const scanned = type('bilat scan');
  expect(scanned.code).toBe(0);
  const said = oneLine(scanned.stdout);
  expect(said.match(/name the day in screening\.yaml with date: on the entry of this sheet/g)).toHaveLength(2);
  const heading = /"Pluse": \{ measure: pulse \}/.exec(said);
  expect(heading).not.toBeNull();
  edit(
    'screening.yaml',
    'sheets:\n',
    `sheets:
  - files: "sheets/hip_strength_ROM.csv"
    date: 2026-08-15
  - files: "sheets/shoulder_jump.csv"
    date: 2026-08-15
  - files: "sheets/PPE_intake_8-15.csv"
    columns: { ${heading![0]} }
`,
  );

  // One reading cannot be; the message gives the beginning of the line that puts it right.
  const ran = type('bilat run');
  expect(ran.code).toBe(0);
  const slip = /settle it in corrections\.csv \((\S+) …\)/.exec(oneLine(ran.stdout));
  expect(slip?.[1]).toBe('sheets/hip_strength_ROM.csv,10,5,432');
  writeFileSync(
    path.join(folder, 'corrections.csv'),
    `file,line,column,raw,action,value,by,date\n${slip![1]},value,43.2,hip station,2026-08-16\n`,
  );
  const again = type('bilat run');
  expect(again.code).toBe(0);
  expect(used.length).toBeLessThanOrEqual(6);

  // What the sheets hold, written down when they were made.
  const table = (name: string): Record<string, string>[] => readCsv(read(folder, 'out', `${name}.csv`));
  const findings = table('findings');
  const of = (rule: string, column: string): string[] =>
    findings.filter((row) => row.rule === rule).map((row) => row[column]);
  expect(again.stdout).toContain('\nTo see medical staff: 7 athletes\nBefore training: 7\nS1017, M Soccer, ');
  const referred = new Set(findings.filter((row) => row.grade === 'refer').map((row) => row.athlete_id));
  expect([...referred].sort()).toEqual(['S1010', 'S1015', 'S1017', 'S1020', 'S1023', 'S1034', 'S1039']);
  expect(of('systolic_before_lifting', 'athlete_id')).toEqual(['S1017']);
  expect(findings.filter((row) => row.rule === 'adductor_ratio_low')).toMatchObject([
    { athlete_id: 'S1007', side: 'left', grade: 'act', programme: 'adductor_strength' },
  ]);
  expect(Number(of('adductor_ratio_low', 'value')[0])).toBeCloseTo(31.4 / 48.2, 10);
  expect(findings.filter((row) => row.rule === 'pain')).toMatchObject([
    { athlete_id: 'S1010', measure: 'single_hop', side: 'right' },
    { athlete_id: 'S1023', measure: 'hip_adduction', side: 'right' },
  ]);
  const results = table('results');
  const corrected = results.find((row) => row.athlete_id === 'S1028' && row.measure === 'hip_adduction')!;
  // The better of 43.8 and 43.2 pounds of force; 4.4482216152605 N each (NIST SP 811).
  expect(Number(corrected.right)).toBeCloseTo(43.8 * 4.4482216152605, 6);
  // The walk-on, who has no number and is not on the roster, and nobody else.
  const left = table('rejects').map(({ file, line, code }) => `${file}:${line} ${code}`);
  expect(left).toEqual([
    'sheets/hip_strength_ROM.csv:24 athlete_missing',
    'sheets/shoulder_jump.csv:57 athlete_unknown',
    'sheets/shoulder_jump.csv:58 athlete_unknown',
    'sheets/PPE_intake_8-15.csv:25 athlete_unknown',
  ]);
  expect(new Set(table('observations').map((row) => row.athlete_id)).size).toBe(40);
}, 120_000);
