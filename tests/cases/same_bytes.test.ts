import { appendFileSync, utimesSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { bash, bilat, contents, copyOfExamples, read, readCsv, tempFolder } from './bilat.ts';
import { SMALL } from './small.ts';

const ANEW = 'out/observations.csv is not there or not up to date: the sheets are read anew';

const collegeIn = (folder: string): string => path.join(folder, 'examples/college');

describe('the example', () => {
  let college: string;
  let summary: string;

  beforeAll(() => {
    college = collegeIn(copyOfExamples());
    const done = bilat(['run', '--folder', college]);
    expect(done).toMatchObject({ code: 0, stderr: '' });
    summary = done.stdout.replace(/Tables are in .*\n/, '');
  });

  test.each([
    [{ TZ: 'Pacific/Auckland', LC_ALL: 'tr_TR.UTF-8', LANG: 'tr_TR.UTF-8' }],
    [{ TZ: 'America/St_Johns', LC_ALL: 'C' }],
  ])('another folder, time zone and locale: %j', (env) => {
    const other = collegeIn(copyOfExamples());
    expect(bilat(['run'], { cwd: other, env }).stdout.replace(/Tables are in .*\n/, '')).toBe(summary);
    expect(contents(path.join(other, 'out'))).toEqual(contents(path.join(college, 'out')));
  });

  test('once more in the same folder', () => {
    const before = contents(college);
    bilat(['run', '--folder', college]);
    expect(contents(college)).toEqual(before);
  });

  const piped = (line: string): string => {
    const { code, stdout } = bash(line, { cwd: college });
    expect(code).toBe(0);
    return stdout;
  };

  test('by stages, through pipes', () => {
    expect(piped('bilat ingest')).toBe(read(college, 'out/observations.csv'));
    expect(piped('bilat ingest | bilat derive -')).toBe(read(college, 'out/results.csv'));
    expect(piped('bilat ingest | bilat flag -')).toBe(read(college, 'out/findings.csv'));
  }, 120_000);

  test('by stages, from the tables of the run and from named files', () => {
    const results = read(college, 'out/results.csv');
    expect(piped('bilat derive')).toBe(results);
    expect(piped('bilat derive out/observations.csv')).toBe(results);
    expect(piped('bilat flag')).toBe(read(college, 'out/findings.csv'));
    const folder = tempFolder();
    expect(bilat(['derive', '--folder', college, '-o', path.join(folder, 'x.csv')])).toMatchObject({ code: 0 });
    expect(read(folder, 'x.csv')).toBe(results);
    const args = ['ingest', '-o', 'o.csv', '--rejects', 'r.csv', '--ignored', 'i.csv', '--ledger', 'l.csv'];
    expect(bilat([...args, '--folder', college], { cwd: folder })).toMatchObject({ code: 0 });
    for (const [file, table] of Object.entries({ o: 'observations', r: 'rejects', i: 'ignored', l: 'ledger' })) {
      expect(read(folder, `${file}.csv`)).toBe(read(college, `out/${table}.csv`));
    }
  }, 120_000);

  test('the ledger adds up, and agrees with the rejects and the ignored cells', () => {
    const total = (table: string, column: string): number =>
      readCsv(read(college, `out/${table}.csv`)).reduce((sum, row) => sum + Number(row[column]), 0);
    expect(readCsv(read(college, 'out/ledger.csv'))).toHaveLength(15);
    const parts = ['measured', 'not_measured', 'context', 'ignored', 'rejected'].map((column) =>
      total('ledger', column),
    );
    expect(parts.reduce((sum, part) => sum + part)).toBe(total('ledger', 'cells'));
    expect(total('rejects', 'cells')).toBe(total('ledger', 'rejected'));
    expect(total('ignored', 'cells')).toBe(total('ledger', 'ignored'));
  });
});

describe('tables of the last run', () => {
  const afterRun = (files: Record<string, string> = {}): string => {
    const folder = tempFolder({ ...SMALL, ...files });
    expect(bilat(['run'], { cwd: folder })).toMatchObject({ code: 0 });
    return folder;
  };
  const derive = (cwd: string, ...args: string[]) => bilat(['derive', ...args], { cwd });

  test('are used as long as nothing has changed, whatever the clock says', () => {
    const folder = afterRun();
    const results = read(folder, 'out/results.csv');
    expect(derive(folder)).toEqual({ code: 0, stdout: results, stderr: '' });
    const later = new Date('2030-01-01');
    for (const file of Object.keys(SMALL)) utimesSync(path.join(folder, file), later, later);
    expect(derive(folder)).toEqual({ code: 0, stdout: results, stderr: '' });
  });

  test('are not used if a sheet has changed', () => {
    const folder = afterRun();
    appendFileSync(path.join(folder, 'sheets/a.csv'), 'A4,2026-08-17,Rowing,30,40,170\n');
    const { stdout, stderr } = derive(folder);
    expect(stderr).toContain(`note: ${ANEW}\n`);
    expect(stdout).toContain('\nA4,Rowing,2026,2026-08-17,grip,kgf,30,40,');
  });

  test.each([
    ['a sheet is new', { 'sheets/b.csv': SMALL['sheets/a.csv'] }],
    ['a roster has come', { 'roster.csv': 'athlete_id\nA1\n' }],
    ['the protocol has changed', { 'protocol.yaml': `${SMALL['protocol.yaml']}\n` }],
    ['the table has been changed by hand', { 'out/observations.csv': 'changed\n' }],
    ['another version wrote it', { 'out/observations-metadata.json': '{}' }],
  ])('are not used if %s', (_, files) => {
    const folder = afterRun();
    for (const [file, text] of Object.entries(files)) bash(`cat > ${file}`, { cwd: folder, input: text });
    expect(derive(folder).stderr).toContain(`note: ${ANEW}\n`);
  });

  test('are not used under another protocol or roster than that of the run', () => {
    const folder = afterRun({ 'other.yaml': SMALL['protocol.yaml'], 'other.csv': 'athlete_id\nA1\n' });
    expect(derive(folder, '--protocol', 'other.yaml').stderr).toContain(ANEW);
    expect(derive(folder, '--roster', 'other.csv').stderr).toContain(ANEW);
  });
});
