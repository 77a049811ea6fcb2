import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { bilat, contents, copyOfExamples, ROOT, read, tempFolder } from './bilat.ts';
import { PROTOCOL, SMALL } from './small.ts';

interface Found {
  readonly severity: string;
  readonly code: string;
  readonly file: string;
  readonly line: number | null;
  readonly column: number | null;
  readonly message: string;
  readonly hint: string | null;
  readonly paste: string | null;
}

function problemsOf(args: readonly string[], cwd: string): { code: number | null; problems: Found[] } {
  const { code, stdout } = bilat(['check', ...args, '--format', 'json'], { cwd });
  return { code, problems: JSON.parse(stdout) };
}

const short = ({ severity, code, file, line, column }: Found): string =>
  [severity, code, [file, line, column].filter((part) => part !== null).join(':')].join(' ');

const CORRECTIONS = 'file,line,column,raw,action\nsheets/b.csv,2,3,40,void\n';

/** Something is wrong with every file, but for the settings, without which nobody knows what the lists mean. */
const BROKEN = {
  'screening.yaml': 'sheets: ["sheets/*.csv", { files: b.csv, columns: { Grip: { measure: gripp } } }]\n',
  'protocol.yaml': PROTOCOL.replace('unit: kgf', 'unit: kgff').replace('measure: grip', 'measure: gripp'),
  'roster.csv': 'id,team\nA1,Rowing\n',
  'injuries.csv': 'athlete_id,region\nA1,groin\n',
  'exposures.csv': 'season,athlete_exposures\n2026,100\n',
  'history.csv': '',
  'clearance.csv': 'athlete_id,date,status\nA1,"2026-08-17,cleared\n',
  'referrals.csv': 'athlete,date,rule\nA1,2026-08-17,grip_deficit\n',
  'corrections.csv': 'file,line,column\nsheets/a.csv,2,3\n',
  'work.csv': 'athlete_id,athlete_id\nA1,A1\n',
  'sheets/a.csv': SMALL['sheets/a.csv'],
};

describe('a folder in which every file is broken', () => {
  test('is told whole in one run, file by file, with exit code 2', () => {
    const folder = tempFolder(BROKEN);
    const before = contents(folder);
    const { code, problems } = problemsOf([], folder);
    expect(code).toBe(2);
    const errors = problems.filter(({ severity }) => severity === 'error');
    const files = new Set(errors.map(({ file }) => file));
    // Without a protocol nobody knows the rules and programmes that referrals and work name.
    expect([...files]).toEqual([
      'clearance.csv',
      'corrections.csv',
      'exposures.csv',
      'history.csv',
      'injuries.csv',
      'protocol.yaml',
      'roster.csv',
    ]);
    expect(errors.filter(({ file }) => file.endsWith('.yaml')).map(short)).toEqual([
      'error protocol_refused protocol.yaml:4:39',
      'error protocol_refused protocol.yaml:7:28',
    ]);
    expect(contents(folder)).toEqual(before);
  });

  test('does not have side files held against what could not be read', () => {
    const sound = { 'injuries.csv': 'athlete_id,date\nBo Reed,2026-08-17\n' };
    const { problems } = problemsOf([], tempFolder({ ...BROKEN, ...sound }));
    expect(problems.filter(({ file }) => file in sound).map(short)).toEqual([]);
  });

  test('is told of referrals and work as well once the protocol can be read', () => {
    const { problems } = problemsOf([], tempFolder({ ...BROKEN, 'protocol.yaml': PROTOCOL }));
    const files = problems.filter(({ severity }) => severity === 'error').map(({ file }) => file);
    expect(files).toContain('referrals.csv');
    expect(files).toContain('work.csv');
    expect(files).not.toContain('protocol.yaml');
  });

  test('is printed no wider than a terminal of old, errors first, and counted', () => {
    const settings = 'roster: { file: roster.csv, columns: { id: athleteid } }\nsheets: [a.csv]\n';
    const files = { ...BROKEN, 'protocol.yaml': PROTOCOL, 'screening.yaml': settings };
    const { code, stdout, stderr } = bilat(['check'], { cwd: tempFolder(files) });
    expect({ code, stderr }).toEqual({ code: 2, stderr: '' });
    expect(stdout).toMatch(/^Errors: to be mended before anything is screened\n {2}- clearance\.csv:2/);
    expect(stdout).toContain('  - screening.yaml:1:44: roster has no column athleteid for heading "id". Did\n');
    expect(stdout.trimEnd().split('\n\n').at(-1)).toMatch(/^\d+ errors, 2 warnings.* Sheets are not opened by check:/s);
    for (const line of stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });
});

describe('settings that cannot be read', () => {
  const folder = (): string => tempFolder({ ...BROKEN, 'screening.yaml': 'sheets: ["sheets/*.csv"]\nunlistd: keep\n' });

  test('are told with the protocol; of the lists one note says that they wait', () => {
    const { code, problems } = problemsOf([], folder());
    expect(code).toBe(2);
    expect(problems.map(short)).toEqual([
      'error protocol_refused protocol.yaml:4:39',
      'error protocol_refused protocol.yaml:7:28',
      'error settings_refused screening.yaml:2:1',
      'note lists_not_read screening.yaml',
    ]);
    expect(problems[3].message).toBe('roster and other lists are read over once screening.yaml can be read');
  });

  test('are printed with their cure', () => {
    const { stdout } = bilat(['check'], { cwd: folder() });
    expect(stdout).toContain('  - screening.yaml:2:1: unknown key "unlistd". Did you mean unlisted?\n');
  });
});

describe('a list with headings of its own', () => {
  const SHEETS = 'sheets: ["sheets/*.csv"]\n';
  const LIST = 'College of Example,,,\n"Roster export, 8/10/2026",,,\n"Student ID",Last,Sport,Year\nA1,Reed,Rowing,2\n';
  const BLOCK = `roster:
  file: roster.csv
  columns:
    "Student ID": athlete_id
    "Last": last_name
    "Sport": team`;

  test('below title lines gets the lines to paste, verbatim, and is read once they are pasted', () => {
    const folder = tempFolder({ ...SMALL, 'roster.csv': LIST });
    const { code, stdout } = bilat(['check'], { cwd: folder });
    expect(code).toBe(2);
    const indented = BLOCK.split('\n').map((line) => `      ${line}\n`);
    expect(stdout).toContain(`in place of roster: if it is there:\n${indented.join('')}`);
    const { problems } = problemsOf([], folder);
    expect(problems.filter(({ severity }) => severity === 'error')).toEqual([
      expect.objectContaining({ file: 'roster.csv', line: 3, paste: BLOCK }),
    ]);
    expect(bilat(['run'], { cwd: folder }).stderr).toContain(`\n${BLOCK.replace(/^/gm, '    ')}\n`);

    const settings = `${BLOCK}\n${SHEETS}`;
    const pasted = problemsOf([], tempFolder({ ...SMALL, 'roster.csv': LIST, 'screening.yaml': settings }));
    expect(pasted.code).toBe(0);
    expect(
      pasted.problems.filter(({ file }) => file === 'roster.csv').map(({ code, message }) => [code, message]),
    ).toEqual([
      ['lines_left_aside', 'lines 1 to 2 stand above the headings, and are left aside'],
      ['column_not_used', 'column "Year" not used'],
    ]);
  });

  test('left as a workbook is noticed', () => {
    const files = { ...SMALL, 'screening.yaml': `roster: roster.csv\n${SHEETS}`, 'Roster.xlsx': 'PK' };
    const { stdout } = bilat(['check'], { cwd: tempFolder(files) });
    expect(stdout.replace(/\s+/g, ' ')).toContain(
      'Beside it lies Roster.xlsx, a workbook, which bilat does not read. Open it in the spreadsheet program and save it as CSV (UTF-8). Name it roster.csv.',
    );
    const unnamed = problemsOf([], tempFolder({ ...SMALL, 'injuries.xlsx': 'PK' }));
    expect(unnamed.problems.map(short)).toContain('warning list_is_workbook injuries.xlsx');
  });
});

test('a folder with nothing but workbooks is told to save them, by check and by run', () => {
  const { 'sheets/a.csv': _, ...others } = SMALL;
  const folder = tempFolder({ ...others, 'sheets/hip.xlsx': 'PK' });
  const { problems } = problemsOf([], folder);
  expect(problems.map(short)).toContain('warning sheet_is_workbook sheets');
  expect(bilat(['run'], { cwd: folder })).toEqual({
    code: 2,
    stdout: '',
    stderr:
      'error: sheets: no sheet was found that bilat reads: sheets/hip.xlsx is a workbook of a spreadsheet program\n' +
      '  Open each in the spreadsheet program and save every sheet of it as CSV (UTF-8).\n',
  });
});

test.each([
  ['sheets/HOPS.csv', 'Did you mean sheets/hops.csv?'],
  ['sheets/hosp.csv', 'Did you mean sheets/hops.csv?'],
  ['hops.csv', 'Did you mean sheets/hops.csv?'],
  ['sheet/hops.csv', 'There is no folder sheet/ here. Did you mean sheets/hops.csv?'],
  ['sheet/*.csv', 'There is no folder sheet/ here.'],
  ['sheets/Hop*.csv', 'Did you mean sheets/hops.csv?'],
  ['sheets/zebra.csv', 'Check folder and ending; * stands for any part of a name, ** for folders.'],
])('files: "%s" matches no file: %s', (files, hint) => {
  const there = { 'sheets/hops.csv': SMALL['sheets/a.csv'], 'screening.yaml': `sheets: ["${files}"]\n` };
  const { problems } = problemsOf([], tempFolder({ 'protocol.yaml': PROTOCOL, ...there }));
  expect(problems.filter(({ code }) => code === 'pattern_without_file')).toEqual([expect.objectContaining({ hint })]);
});

/** Every file can be read, and each holds something that will bite. */
const BITING = {
  'screening.yaml': `teams: { Rowing: { also: [ROW] } }
people: { Bo Reed: A9 }
sheets: ["sheets/*.csv", "sheets/2026/*.csv"]
`,
  'protocol.yaml': `${PROTOCOL}sport_groups:
  arms: { teams: [ROW, Fencng], measures: [grip] }
`,
  'roster.csv': 'athlete_id,team,sex\nA1,Rowing,F\nA2,Fencing,M\nA1,Rowing,F\n',
  'injuries.csv': 'athlete_id,date,region\nA1,2026-08-17,groin\nA7,2026-08-17,groin\n',
  'corrections.csv': CORRECTIONS,
  'work.csv': 'athlete_id,programme,started\nA1,jumping,2026-08-17\n',
  'sheets/a.csv': SMALL['sheets/a.csv'],
  'sheets/other/c.csv': SMALL['sheets/a.csv'],
};

describe('a folder that can be read', () => {
  test('with things that will bite ends with 0, each of them said at its place', () => {
    const { code, problems } = problemsOf([], tempFolder(BITING));
    expect(code).toBe(0);
    expect(problems.filter(({ severity }) => severity !== 'note').map(short)).toEqual([
      'warning correction_of_no_sheet corrections.csv:2',
      'warning injuries_cell injuries.csv:3:1',
      'warning team_without_sport_group roster.csv',
      'warning team_without_sport_group roster.csv',
      'warning roster_cell roster.csv:4:1',
      'warning person_unknown screening.yaml:2:20',
      'warning pattern_without_file screening.yaml:3:26',
      'warning sheet_unread sheets',
      'warning work_cell work.csv:2:2',
    ]);
    expect(problems.find(({ code }) => code === 'person_unknown')?.message).not.toContain('Bo');
  });

  test('without fault ends with 0, and says that sheets are for scan', () => {
    const folder = tempFolder(SMALL);
    const { code, stdout, stderr } = bilat(['check'], { cwd: folder });
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toBe(`Notes: what one should know
  - protocol.yaml:4:3: 1 measure without a measurement error, so that their
    findings say error_unknown: grip. Add error: to a measure, or to those it is
    worked out from, once you know yours.
  - protocol.yaml:7:3: 1 rule without strength of evidence: grip_deficit. Add
    strength: in whom the limit was found, and how many.
  - protocol.yaml:7:90: 1 of 1 rule rests on common practice or memory alone,
    no study: grip_deficit. Confirm them with your team physician before they
    decide anything.

No errors, no warnings, 3 notes. Sheets are not opened by check: bilat scan says
how each of them would be read.
`);
  });

  test.each([
    ['--folder', ['--folder', 'x']],
    ['its name', ['x']],
    ['its settings', ['x/screening.yaml']],
  ])('is found by %s', (_, args) => {
    const files = Object.fromEntries(Object.entries(BITING).map(([file, text]) => [`x/${file}`, text]));
    const { code, problems } = problemsOf(args, tempFolder(files));
    expect(code).toBe(0);
    expect(problems.map(({ code: found }) => found)).toContain('person_unknown');
  });

  test('is read with the protocol and roster that the command line names', () => {
    const folder = tempFolder({
      ...SMALL,
      'other.yaml': PROTOCOL.replace(', source: common practice', ''),
      'list.csv': 'athlete_id\nA1\nA1\n',
    });
    const { problems } = problemsOf(['--protocol', 'other.yaml', '--roster', 'list.csv'], folder);
    expect(problems.filter(({ severity }) => severity === 'warning').map(short)).toEqual([
      'warning roster_cell list.csv:3:1',
      'warning rule_without_source other.yaml:7:3',
    ]);
  });
});

describe('a protocol alone', () => {
  const files = { 'x/mine.yaml': PROTOCOL.replace('at_least: 10', 'at_least: 100') };

  test.each([[['x/mine.yaml']], [['--protocol', 'x/mine.yaml']]])('bilat check %j', (args) => {
    const { code, problems } = problemsOf(args, tempFolder(files));
    expect(code).toBe(0);
    expect(problems.filter(({ severity }) => severity === 'warning').map(short)).toEqual([
      'warning limit_unreachable x/mine.yaml:7:64',
    ]);
  });

  test('with a limit that no z can reach ends with 2', () => {
    const text = `${PROTOCOL}derived:
  both: { z_mean: [grip, height], within: [] }
`.replace('rules:\n', 'rules:\n  low: { measure: both, below: -3, grade: act, source: x, strength: y }\n');
    const { code, problems } = problemsOf(['p.yaml'], tempFolder({ 'p.yaml': text }));
    expect(code).toBe(2);
    expect(problems[0]).toMatchObject({ severity: 'error', code: 'z_unreachable', line: 7 });
  });
});

describe('wrong use', () => {
  const folder = tempFolder({ ...SMALL, 'hip.csv': 'a\n', 'hip.xlsx': 'PK' });

  test.each([
    [['nowhere'], 'error: nowhere: there is no such file or folder\n  Name a protocol or a screening folder.\n'],
    [
      ['hip.csv'],
      'error: hip.csv: is read over together with its folder, not by itself\n  Say:  bilat check  If it is the sheet of a station, say:  bilat scan hip.csv\n',
    ],
    [
      ['sheets/a.csv'],
      'error: sheets/a.csv: is not a protocol (.yaml), and sheets are looked at by scan\n  Say:  bilat scan sheets/a.csv  A roster or another list is read over with its folder:  bilat check --folder DIR\n',
    ],
    [
      ['hip.xlsx'],
      'error: hip.xlsx: is a workbook of a spreadsheet program, which bilat does not read\n  Open it in the spreadsheet program and save it as CSV (UTF-8).\n',
    ],
    [['.', '--folder', '.'], 'error: check takes one place: "." or --folder .\n'],
    [
      ['protocol.yaml', '--protocol', 'protocol.yaml'],
      'error: check takes one protocol: "protocol.yaml" or --protocol protocol.yaml\n',
    ],
    [['--schema', 'protocol', '--format', 'json'], 'error: --schema prints JSON Schema; leave --format out\n'],
    [
      ['--schema', 'roster'],
      "error: option '--schema <kind>' argument 'roster' is invalid. Allowed choices are protocol, screening.\n",
    ],
    [
      ['--folder', 'sheets'],
      'error: sheets: holds neither screening.yaml nor protocol.yaml\n  Begin with  bilat new DIR  or name the right folder.\n',
    ],
  ])('bilat check %j', (args, stderr) => {
    expect(bilat(['check', ...args], { cwd: folder })).toEqual({ code: 2, stdout: '', stderr });
  });

  test('without a folder anywhere', () => {
    const { code, stderr } = bilat(['check'], { cwd: tempFolder() });
    expect(code).toBe(2);
    expect(stderr).toContain('error: There is no screening folder here');
    expect(stderr).toContain('bilat new DIR');
  });
});

test.each(['protocol', 'screening'])('--schema %s prints a JSON Schema, and needs no folder', (name) => {
  const folder = tempFolder();
  const { code, stdout, stderr } = bilat(['check', '--schema', name], { cwd: folder });
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  const schema = JSON.parse(stdout);
  expect(schema.type).toBe('object');
  expect(Object.keys(schema.properties)).toContain(name === 'protocol' ? 'measures' : 'sheets');
  expect(bilat(['check', '--schema', name, '-o', 's.json'], { cwd: folder })).toMatchObject({ code: 0, stdout: '' });
  expect(read(folder, 's.json')).toBe(stdout);
});

test('-o writes a file whose ending sets the form, and keeps what others wrote', () => {
  const folder = tempFolder({ ...SMALL, 'mine.json': '{}' });
  expect(bilat(['check', '-o', 'p.json'], { cwd: folder })).toEqual({ code: 0, stdout: '', stderr: '' });
  expect(JSON.parse(read(folder, 'p.json'))).toHaveLength(3);
  expect(read(folder, 'p.json').trimEnd().split('\n')).toHaveLength(5);
  expect(bilat(['check', '-o', 'mine.json'], { cwd: folder }).code).toBe(2);
  expect(read(folder, 'mine.json')).toBe('{}');
});

describe('nothing bites', () => {
  test.each([
    ['the example', (): string => path.join(copyOfExamples(), 'examples/college'), []],
    ['the starter protocol', (): string => path.join(ROOT, 'src/protocol/starter'), ['protocol.yaml']],
    [
      'a new folder',
      (): string => {
        const folder = tempFolder();
        expect(bilat(['new', 'x'], { cwd: folder }).code).toBe(0);
        return path.join(folder, 'x');
      },
      [],
    ],
  ])('in %s', (_, folder, args) => {
    const { code, problems } = problemsOf(args, folder());
    expect(code).toBe(0);
    expect(problems.filter(({ severity }) => severity !== 'note')).toEqual([]);
    expect(problems.length).toBeLessThanOrEqual(6);
  });
});
