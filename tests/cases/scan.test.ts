import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { bilat, contents, copyOfExamples, read, readCsv, tempFolder } from './bilat.ts';
import { PROTOCOL, SMALL } from './small.ts';

const DAY = '2026-08-17';
const FORCE = PROTOCOL.replace(
  'measures:\n',
  'measures:\n  push: { label: Push strength, unit: N, sides: each, headings: [push] }\n',
);
const ODD = {
  'protocol.yaml': FORCE,
  'sheets/a.csv': `ID,Date,Gripp L,Grip R (kg)\nA1,${DAY},40,50\nA2,${DAY},41,4O\n`,
  'sheets/b.csv': `ID,Date,Push L,Push R\nA1,${DAY},40,50\n`,
  'sheets/c.csv': `Date,${DAY},${DAY}\nID,A1,A2\nGrip L (kg),40,41\nGrip R (kg),50,NT\n`,
  'sheets/d.csv': `ID,Date,Grip L (kg),,ID,Date,Height (cm)\nA1,${DAY},40,,A2,${DAY},180\n`,
  'sheets/e.csv': new Uint8Array([0x50, 0x4b, 0x03, 0x04, 0x00]),
};
const ONCE = 'in the entry of this sheet in\n    screening.yaml, one of these lines settles';

const SHEETS_OF_THE_EXAMPLE = [
  ...['intake', 'hip', 'landing', 'hip-retest'].map((name) => `sheets/2024/${name}.csv`),
  ...['intake', 'hip', 'landing', 'shoulder', 'power'].map((name) => `sheets/2025/${name}.csv`),
  ...['intake', 'hip', 'hip-makeup', 'landing', 'shoulder', 'power'].map((name) => `sheets/2026/${name}.csv`),
];

/** Rows of observations, and all but where their unit was found. */
function observations(folder: string): Record<string, string>[] {
  const { code, stdout } = bilat(['ingest'], { cwd: folder });
  expect(code).toBe(0);
  return readCsv(stdout).map(({ unit_from: _, ...row }) => row);
}

describe('text', () => {
  test('says first how well a sheet is understood, then what is not, then column by column', () => {
    const { code, stdout, stderr } = bilat(['scan', 'sheets/a.csv'], { cwd: tempFolder(ODD) });
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toBe(`sheets/a.csv: 4 columns, 3 understood; 1 reading, 4 cells not read.

  Not understood, so that nothing of it is read:
  - column 3 (3 cells): Heading "Gripp L" names no measure and no role that is
    known. Add the heading to a measure in protocol.yaml, or say in
    screening.yaml what it holds: columns: {"Gripp L": {measure: …}}; only if
    nobody needs it: ignore.
      "Gripp L": { measure: grip, side: left, unit: … }
      "Gripp L": ignore
  Under columns: ${ONCE.replace('\n    screening.yaml, one of these', ' screening.yaml, one of these\n   ')} a column.

  How it is read: parted by commas, UTF-8.
  Headings in line 1: a row an athlete.
  1  ID           athlete_id; the heading says so
  2  Date         date; the heading says so
  3  Gripp L      not understood; nothing read of 3 cells
  4  Grip R (kg)  grip, right, in kgf; 1 read, 1 not read
                  "Grip" names it; kg in the heading, taken as kgf

  Not read (line:column):
  - not a number, 1 cell (3:4): "4O" is not a number and not a word that says
    why there is none. Look at the paper and write the number, or NT, unable,
    pain, refused.
`);
  });

  test('a force without a unit comes first of all, and no unit is preferred', () => {
    const { stdout } = bilat(['scan', 'sheets/b.csv'], { cwd: tempFolder(ODD) });
    expect(stdout).toContain(`sheets/b.csv: 4 columns, 2 understood; 0 readings, 4 cells not read.

  Held back, because nobody says the unit:
  - column 3 (2 cells): Heading "Push L" says no unit, and a unit for Push
    strength is never guessed: its readings are held back.
`);
    expect(stdout).toContain(
      '      units: { push: kgf }\n      units: { push: "[lbf_av]" }\n      units: { push: N }\n',
    );
  });

  test('speaks of lines where athletes stand across, and of tables side by side', () => {
    const folder = tempFolder(ODD);
    expect(
      bilat(['scan', 'sheets/c.csv'], { cwd: folder }).stdout,
    ).toBe(`sheets/c.csv: 4 lines, 4 understood; 3 readings, 1 not measured, 0 cells not
  read.

  How it is read: parted by commas, UTF-8, athletes across the columns.
  Headings in column 1: a column an athlete.
  1  Date         date; the heading says so
  2  ID           athlete_id; the heading says so
  3  Grip L (kg)  grip, left, in kgf; 2 read
                  "Grip" names it; kg in the heading, taken as kgf
  4  Grip R (kg)  grip, right, in kgf; 1 read, 1 not measured
                  "Grip" names it; kg in the heading, taken as kgf
`);
    const { stdout } = bilat(['scan', 'sheets/d.csv'], { cwd: folder });
    expect(stdout).toContain('  Headings in line 1, table 2 from the left: a row an athlete.\n  5  ID ');
  });

  test('is of all sheets of the folder, those that cannot be read too, and writes nothing', () => {
    const folder = tempFolder(ODD);
    const before = contents(folder);
    const { code, stdout } = bilat(['scan'], { cwd: folder });
    expect(code).toBe(0);
    expect(stdout.match(/^sheets\/..csv: .*/gm)).toEqual([
      'sheets/a.csv: 4 columns, 3 understood; 1 reading, 4 cells not read.',
      'sheets/b.csv: 4 columns, 2 understood; 0 readings, 4 cells not read.',
      'sheets/c.csv: 4 lines, 4 understood; 3 readings, 1 not measured, 0 cells not',
      'sheets/d.csv: 6 columns, 6 understood; 2 readings, 0 cells not read.',
      'sheets/e.csv: cannot be read.',
    ]);
    expect(stdout.replace(/\s+/g, ' ')).toContain(
      'it holds a workbook or zip archive. Open it in the spreadsheet program',
    );
    expect(contents(folder)).toEqual(before);
  });

  test('is of standard input', () => {
    const done = bilat(['scan', '-', '--protocol', 'protocol.yaml'], {
      cwd: tempFolder(SMALL),
      input: SMALL['sheets/a.csv'],
    });
    expect(done).toMatchObject({ code: 0, stderr: '' });
    expect(done.stdout).toMatch(
      /^standard input: 6 columns, 6 understood; 6 readings, 1 not measured, 1 cell\n {2}not read\.\n/,
    );
  });

  test('agrees with ingest about the example', () => {
    const folder = path.join(copyOfExamples(), 'examples/college');
    const { code, stdout, stderr } = bilat(['ingest', '--ledger', 'ledger.csv'], { cwd: folder });
    expect(code).toBe(0);
    const sheets = JSON.parse(bilat(['scan', '--format', 'json'], { cwd: folder }).stdout);
    const PARTS = ['cells', 'measured', 'not_measured', 'context', 'ignored', 'rejected'] as const;
    const sum = (name: string): number =>
      sheets.reduce((total: number, { ledger }: { ledger: Record<string, number> }) => total + ledger[name], 0);
    // A pressure and its recheck stand in one cell, and are four observations.
    expect(PARTS.map(sum)).toEqual([26602, 12744, 36, 13190, 453, 179]);
    expect(readCsv(stdout)).toHaveLength(13972);
    expect(stderr).toContain(
      '\n15 sheets, 26602 cells: 12744 readings, 36 not measured, 13190 context, 453 ignored, 179 rejected.\n',
    );
    // Sheet by sheet too.
    expect(
      sheets.map(({ file, ledger }: { file: string; ledger: Record<string, number> }) => [
        file,
        ...PARTS.map((name) => String(ledger[name])),
      ]),
    ).toEqual(readCsv(read(folder, 'ledger.csv')).map((row) => [row.file, ...PARTS.map((name) => row[name])]));
  });
});

describe('--format json', () => {
  test('is an array of one object a sheet, a line each', () => {
    const { code, stdout, stderr } = bilat(['scan', '--format', 'json'], { cwd: tempFolder(ODD) });
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    const sheets = JSON.parse(stdout);
    expect(stdout.trimEnd().split('\n')).toHaveLength(sheets.length + 2);
    expect(sheets.map(({ file, columns, understood }: Record<string, unknown>) => [file, columns, understood])).toEqual(
      [
        ['sheets/a.csv', 4, 3],
        ['sheets/b.csv', 4, 2],
        ['sheets/c.csv', 4, 4],
        ['sheets/d.csv', 6, 6],
        ['sheets/e.csv', 0, 0],
      ],
    );
    expect(sheets[0].blocks[0].tables[0].columns[2]).toMatchObject({
      number: 3,
      heading: 'Gripp L',
      kind: 'rejected',
      code: 'heading_unknown',
      lines: ['"Gripp L": { measure: grip, side: left, unit: … }', '"Gripp L": ignore'],
    });
    expect(sheets[4].problem.code).toBe('file_not_text');
  });

  test('goes to a file that ends in .json', () => {
    const folder = tempFolder(SMALL);
    expect(bilat(['scan', '-o', 'scan.json'], { cwd: folder })).toEqual({ code: 0, stdout: '', stderr: '' });
    expect(JSON.parse(read(folder, 'scan.json'))[0].file).toBe('sheets/a.csv');
    expect(bilat(['scan', '-o', 'protocol.yaml'], { cwd: folder }).code).toBe(2);
    expect(read(folder, 'protocol.yaml')).toBe(PROTOCOL);
  });
});

describe('--columns', () => {
  test('pasted back, gives the same observations of the odd sheets', () => {
    const folder = tempFolder(ODD);
    const before = observations(folder);
    const { code, stdout } = bilat(['scan', '--columns'], { cwd: folder });
    expect(code).toBe(0);
    const after = observations(tempFolder({ ...ODD, 'screening.yaml': stdout }));
    expect(before).toHaveLength(7);
    expect(after).toEqual(before);
  });

  test('pasted back, gives the same observations of the example', () => {
    const folder = path.join(copyOfExamples(), 'examples/college');
    const before = observations(folder);
    expect(before).toHaveLength(13972);
    const { code, stdout } = bilat(['scan', '--columns'], { cwd: folder });
    expect(code).toBe(0);
    const entries = /\nsheets:\n[\s\S]*?\n(?=corrections:)/;
    const settings = read(folder, 'screening.yaml').replace(entries, () => `\n${stdout}`);
    // Every column is spelled out: with a unit in the heading, with one of screening.yaml, with one of the starter alone.
    for (const line of [
      '"Hip Add L 1 (kg)": { measure: hip_adduction, side: left, trial: 1, unit: kgf }',
      '"Hip Add L 1": { measure: hip_adduction, side: left, trial: 1, unit: "[lbf_av]" }',
      '"Hip Add (kg) R 2": { measure: hip_adduction, side: right, trial: 2, unit: kgf }',
      '"BP": { measure: blood_pressure } # no unit is named: read in that of the protocol',
      '# "Pusle": { measure: pulse }',
    ])
      expect(settings).toContain(`\n      ${line}\n`);
    const files = [...settings.matchAll(/^ {2}- files: (.*)\n(?: {4}.*\n)* {4}columns:\n/gm)].map(([, file]) => file);
    expect(files).toEqual(SHEETS_OF_THE_EXAMPLE);
    expect(settings).toContain('\ncorrections: corrections.csv\n');
    writeFileSync(path.join(folder, 'screening.yaml'), settings);
    expect(observations(folder)).toEqual(before);
  });

  test('a line that the text gives settles the column', () => {
    const settled = tempFolder({
      ...ODD,
      'screening.yaml': `sheets:
  - files: sheets/a.csv
    columns:
      "Gripp L": { measure: grip, side: left, unit: kgf }
  - files: sheets/b.csv
    units: { push: "[lbf_av]" }
`,
    });
    expect(bilat(['scan'], { cwd: settled }).stdout.match(/^sheets.*/gm)).toEqual([
      'sheets/a.csv: 4 columns, 4 understood; 3 readings, 1 cell not read.',
      'sheets/b.csv: 4 columns, 4 understood; 2 readings, 0 cells not read.',
    ]);
  });

  test('a unit that nobody filled in is refused', () => {
    const folder = tempFolder(ODD);
    const { stdout } = bilat(['scan', '--columns', 'sheets/b.csv'], { cwd: folder });
    const hasty = stdout.replaceAll('# "Push', '"Push');
    expect(hasty).toContain(
      '\n      "Push L": { measure: push, side: left, unit: … } # unit: kgf or "[lbf_av]" or N\n',
    );
    const { code, stderr } = bilat(['scan'], { cwd: tempFolder({ ...ODD, 'screening.yaml': hasty }) });
    expect(code).toBe(2);
    expect(stderr).toContain('"…" is no UCUM unit known here');
  });

  test('is alone on standard output; what was noticed goes to standard error', () => {
    const latin = Buffer.from(SMALL['sheets/a.csv'].replace('Fencing', 'Fencing é'), 'latin1');
    const { code, stdout, stderr } = bilat(['scan', '--columns'], {
      cwd: tempFolder({ ...SMALL, 'sheets/a.csv': latin }),
    });
    expect(code).toBe(0);
    expect(stdout).toMatch(/^sheets:\n {2}- files: sheets\/a\.csv\n {4}encoding: windows-1252 # nothing says so: /);
    expect(stderr).toMatch(/^note: sheets\/a\.csv: is not UTF-8 and is read as Windows-1252;/);
  });
});

test('--fail-on rejects', () => {
  const folder = tempFolder(ODD);
  expect(bilat(['scan', '--fail-on', 'rejects', 'sheets/d.csv'], { cwd: folder })).toMatchObject({
    code: 0,
    stderr: '',
  });
  for (const form of [[], ['--format', 'json'], ['--columns']]) {
    expect(bilat(['scan', '--fail-on', 'rejects', ...form, 'sheets/a.csv'], { cwd: folder })).toMatchObject({
      code: 1,
      stderr: 'Exit code 1, because --fail-on found 2 rejects.\n',
    });
  }
});

test('names stand in no output unless they are asked for', () => {
  const people = 'athlete_id,last_name,first_name\nA1,Umberfell,Quill\n';
  const sheet = `Athlete,Date,Grip L (kg),Grip R (kg),Notes\n"Umberfell, Quill",${DAY},40,5O,Quill was late\nZephrin Lowdown,${DAY},40,50,\n`;
  const folder = tempFolder({ ...SMALL, 'roster.csv': people, 'sheets/a.csv': sheet });
  for (const form of [['--format', 'text'], ['--format', 'json'], ['--columns']]) {
    const { code, stdout, stderr } = bilat(['scan', ...form], { cwd: folder });
    expect(code).toBe(0);
    expect(stdout + stderr).not.toMatch(/Umberf|Quill|Zephrin|Lowdown/);
  }
  expect(bilat(['scan', '--names'], { cwd: folder }).stdout).toContain('"Zephrin Lowdown"');
});

test('signs that steer a terminal are not printed', () => {
  const sheet = SMALL['sheets/a.csv'].replace('Height (cm)', '"He\u001b[31m\u202eight"');
  const folder = tempFolder({ ...SMALL, 'sheets/a.csv': sheet });
  for (const form of [['--format', 'text'], ['--format', 'json'], ['--columns']]) {
    const { code, stdout } = bilat(['scan', ...form], { cwd: folder });
    expect(code).toBe(0);
    expect(stdout).not.toMatch(/(?!\n)[\p{Cc}\p{Bidi_Control}]/u);
  }
});
