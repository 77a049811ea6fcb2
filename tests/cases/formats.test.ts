import { existsSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { bash, bilat, read, tempFolder } from './bilat.ts';
import { PROTOCOL, SHEET, SMALL } from './small.ts';

// 40 and 50: 100 (50 - 40) / 50 = 20 %, a gap of 10, and an angle of 100 (45 - atan(40 / 50) in degrees) / 90 = 7.0447;
// 40 and 41: 100 / 41 = 2.439 %, and 100 (45 - atan(40 / 41) in degrees) / 90 = 0.7859. All worked out by hand.
const OBSERVATIONS = `athlete_id,team,season,date,measure,side,trial,value,unit,status,tester,device,station,purpose,raw,file,line,column,written_in,unit_from
A1,Rowing,2026,2026-08-17,grip,left,1,40,kgf,measured,,,,test,40,sheets/a.csv,2,4,kgf,heading
A1,Rowing,2026,2026-08-17,grip,right,1,50,kgf,measured,,,,test,50,sheets/a.csv,2,5,kgf,heading
A1,Rowing,2026,2026-08-17,height,none,1,180,cm,measured,,,,test,180,sheets/a.csv,2,6,cm,heading
A2,Rowing,2026,2026-08-17,grip,left,1,40,kgf,measured,,,,test,40,sheets/a.csv,3,4,kgf,heading
A2,Rowing,2026,2026-08-17,grip,right,1,41,kgf,measured,,,,test,41,sheets/a.csv,3,5,kgf,heading
A3,Fencing,2026,2026-08-17,grip,left,1,38,kgf,pain,,,,test,38 P,sheets/a.csv,4,4,kgf,heading
A3,Fencing,2026,2026-08-17,grip,right,1,,kgf,unable,,,,test,unable,sheets/a.csv,4,5,,
`;
const RESULTS = `athlete_id,team,season,date,measure,unit,left,right,both,value,weaker,deficit_pct,gap,difference,direction_pct,dominance_pct,dominance_gap,symmetry_angle,bilateral_index_pct,trials_left,trials_right,spread_left_pct,spread_right_pct,status
A1,Rowing,2026,2026-08-17,grip,kgf,40,50,,,left,20,10,10,20,,,7.04465749545545,,1,1,,,
A1,Rowing,2026,2026-08-17,height,cm,,,,180,,,,,,,,,,,,,,
A2,Rowing,2026,2026-08-17,grip,kgf,40,41,,,left,2.4390243902439024,1,1,2.4390243902439024,,,0.7859104094936163,,1,1,,,
A3,Fencing,2026,2026-08-17,grip,kgf,38,,,,,,,,,,,,,1,0,,,missing_right;pain_left;unable
`;
const FINDINGS = `athlete_id,team,season,date,sport_group,rule,measure,side,field,value,limit,margin,error,error_basis,certainty,grade,previous_injury,programme,owner,message
A1,Rowing,2026,2026-08-17,,grip_deficit,grip,left,deficit_pct,20,10,10,,,error_unknown,watch,,,,"Grip strength, left: side-to-side deficit 20 %, limit 10 % or more; measurement error unknown, so how far this can be trusted cannot be said."
A3,Fencing,2026,2026-08-17,,pain,grip,left,status,,,,,,not_applicable,refer,,,medical,"Grip strength, left: pain during the test."
A3,Fencing,2026,2026-08-17,,unable,grip,right,status,,,,,,not_applicable,act,,,,"Grip strength, right: the test could not be done."
A3,Fencing,2026,2026-08-17,,one_side,grip,right,status,,,,,,not_applicable,watch,,,,"Grip strength, right: no number for this side and one for the other, so they cannot be compared."
`;
const COUNTED = '1 sheet, 23 cells: 6 readings, 1 not measured, 15 context, 0 ignored, 1 rejected.\n';
const READ = `${COUNTED}Write what could not be read, and why, with --rejects FILE.\n`;
const ANEW = `note: out/observations.csv is not there or not up to date: the sheets are read anew
note: 1 cell of the sheets could not be read: bilat ingest --rejects FILE says which and why
`;

const TABLES = { ingest: OBSERVATIONS, derive: RESULTS, flag: FINDINGS };
const NOTES = { ingest: READ, derive: ANEW, flag: ANEW };
const NAMES = ['ingest', 'derive', 'flag'] as const;

/** The JSON and markdown forms of a table, made from its CSV form, every row on one line of its own. */
function rowsOf(csv: string): { head: string[]; rows: string[][] } {
  const [head, ...rows] = csv
    .trimEnd()
    .split('\n')
    .map((line) => [...line.matchAll(/(?:^|,)(?:"([^"]*)"|([^,]*))/g)].map(([, quoted, plain]) => quoted ?? plain));
  return { head, rows };
}

const NUMBERS = new Set(
  `season trial value line column left right both deficit_pct gap difference direction_pct dominance_pct dominance_gap
   symmetry_angle bilateral_index_pct trials_left trials_right spread_left_pct spread_right_pct limit margin error`.split(
    /\s+/,
  ),
);

function asJson(csv: string): string {
  const { head, rows } = rowsOf(csv);
  const value = (name: string, cell: string): unknown => (cell === '' ? null : NUMBERS.has(name) ? Number(cell) : cell);
  const lines = rows.map((row) =>
    JSON.stringify(Object.fromEntries(head.map((name, at) => [name, value(name, row[at])]))),
  );
  return `[\n${lines.join(',\n')}\n]\n`;
}

function asMarkdown(csv: string): string {
  const { head, rows } = rowsOf(csv);
  const rule = head.map((name) => (NUMBERS.has(name) ? '---:' : '---'));
  return [head, rule, ...rows].map((cells) => `| ${cells.join(' | ')} |\n`).join('');
}

describe.each(NAMES)('bilat %s', (name) => {
  const csv = TABLES[name];
  const stderr = NOTES[name];

  test('writes CSV to a pipe', () => {
    expect(bilat([name], { cwd: tempFolder(SMALL) })).toEqual({ code: 0, stdout: csv, stderr });
  });

  test.each([
    ['csv', csv],
    ['json', asJson(csv)],
    ['markdown', asMarkdown(csv)],
  ])('--format %s', (format, stdout) => {
    const folder = tempFolder(SMALL);
    expect(bilat([name, '--folder', folder, '--format', format])).toEqual({ code: 0, stdout, stderr });
    expect(existsSync(path.join(folder, 'out'))).toBe(false);
  });

  test.each([
    ['table.csv', csv, 'table-metadata.json'],
    ['table.CSV', csv, 'table-metadata.json'],
    ['table.json', asJson(csv), 'table.json-metadata.json'],
    ['table.md', asMarkdown(csv), 'table.md-metadata.json'],
    ['table.markdown', asMarkdown(csv), 'table.markdown-metadata.json'],
    ['table.txt', csv, 'table.txt-metadata.json'],
  ])('-o %s is written by its ending, with its metadata', (file, text, metadata) => {
    const folder = tempFolder(SMALL);
    expect(bilat([name, '-o', file], { cwd: folder })).toEqual({ code: 0, stdout: '', stderr });
    expect(read(folder, file)).toBe(text);
    expect(JSON.parse(read(folder, metadata))).toMatchObject({ url: file, 'bilat:command': `bilat ${name}` });
  });

  test('-o - is standard output, and --format wins over an ending', () => {
    const folder = tempFolder(SMALL);
    expect(bilat([name, '-o', '-'], { cwd: folder }).stdout).toBe(csv);
    bilat([name, '-o', 'table.csv', '--format', 'json'], { cwd: folder });
    expect(read(folder, 'table.csv')).toBe(asJson(csv));
  });

  test('the folder is found from below', () => {
    const folder = tempFolder({ ...SMALL, 'screening.yaml': 'sheets: ["sheets/*.csv"]\n' });
    expect(bilat([name], { cwd: path.join(folder, 'sheets') }).stdout).toBe(csv);
  });
});

describe('standard input', () => {
  test('a sheet', () => {
    const { code, stdout } = bilat(['ingest', '-'], { cwd: tempFolder({ 'protocol.yaml': PROTOCOL }), input: SHEET });
    expect(code).toBe(0);
    // A spreadsheet takes a lone minus for the start of a formula.
    expect(stdout).toBe(OBSERVATIONS.replaceAll('sheets/a.csv', "'-"));
  });

  test('nothing is no sheet, and no table', () => {
    const folder = tempFolder(SMALL);
    expect(bilat(['ingest', '-'], { cwd: folder })).toEqual({
      code: 0,
      stdout: OBSERVATIONS.slice(0, OBSERVATIONS.indexOf('\n') + 1),
      stderr: `note: -: The file holds nothing. Ask the station for the sheet, or take the file out.
1 sheet, 0 cells: 0 readings, 0 not measured, 0 context, 0 ignored, 0 rejected.
Write what could not be read, and why, with --rejects FILE.
`,
    });
    for (const name of ['derive', 'flag']) {
      expect(bilat([name, '-'], { cwd: folder })).toEqual({
        code: 2,
        stdout: '',
        stderr: 'error: standard input: is empty: not even a header\n',
      });
    }
  });

  test.each(['derive', 'flag'] as const)('observations into %s, by pipe or by file', (name) => {
    const folder = tempFolder({ ...SMALL, 'observations.csv': OBSERVATIONS });
    const fine = { code: 0, stdout: TABLES[name], stderr: '' };
    expect(bilat([name, '-'], { cwd: folder, input: OBSERVATIONS })).toEqual(fine);
    expect(bilat([name, 'observations.csv'], { cwd: folder })).toEqual(fine);
    expect(bash(`bilat ingest 2>/dev/null | bilat ${name} -`, { cwd: folder })).toEqual(fine);
  });

  test('a protocol alone is enough where inputs are named', () => {
    const folder = tempFolder({ 'battery.yaml': PROTOCOL, 'a.csv': SHEET });
    const line = 'bilat ingest a.csv --protocol battery.yaml 2>/dev/null | bilat flag - --protocol battery.yaml';
    expect(bash(line, { cwd: folder })).toEqual({ code: 0, stdout: FINDINGS, stderr: '' });
  });

  test('a sheet that can be read only once is read as well', () => {
    const { code, stdout } = bash('bilat ingest <(cat sheets/a.csv)', { cwd: tempFolder(SMALL) });
    expect(code).toBe(0);
    expect(stdout.split('\n')).toHaveLength(OBSERVATIONS.split('\n').length);
  });
});

describe('tables beside the observations', () => {
  const LEDGER = 'file,cells,measured,not_measured,context,ignored,rejected\nsheets/a.csv,23,6,1,15,0,1\n';

  test('--rejects, --ignored and --ledger', () => {
    const folder = tempFolder(SMALL);
    const args = ['ingest', '-o', 'o.csv', '--rejects', 'r.csv', '--ignored', 'i.csv', '--ledger', 'l.csv'];
    expect(bilat(args, { cwd: folder })).toEqual({
      code: 0,
      stdout: '',
      stderr: COUNTED,
    });
    expect(read(folder, 'l.csv')).toBe(LEDGER);
    expect(read(folder, 'i.csv')).toBe('file,line,column,heading,cells,reason\n');
    expect(read(folder, 'r.csv')).toContain('\nsheets/a.csv,4,6,Height (cm),17.5,implausible,');
  });

  test('one of them can go to standard output in place of the observations', () => {
    const args = ['ingest', '-o', 'o.csv', '--ledger', '-'];
    expect(bilat(args, { cwd: tempFolder(SMALL) })).toMatchObject({ code: 0, stdout: LEDGER });
  });

  test.each([
    [
      ['-o', 'x.csv', '--rejects', './x.csv'],
      /^error: rejects would go where another table goes already \(.*x\.csv\)\n$/,
    ],
    [['--ledger', '-'], /^error: ledger would go where another table goes already \(standard output\)\n$/],
  ])('no two of them can go to one place: %j', (args, stderr) => {
    const folder = tempFolder(SMALL);
    const done = bilat(['ingest', ...args], { cwd: folder });
    expect(done).toMatchObject({ code: 2, stdout: '' });
    expect(done.stderr).toMatch(stderr);
    expect(existsSync(path.join(folder, 'x.csv'))).toBe(false);
  });
});
