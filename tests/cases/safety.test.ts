import { spawn } from 'node:child_process';
import { existsSync, readdirSync, symlinkSync } from 'node:fs';
import path from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { describe, expect, test } from 'vitest';
import { bash, bilat, contents, LAUNCHER, read, tempFolder } from './bilat.ts';
import { RUN_FILES, SMALL } from './small.ts';

const FULL = 'Could not be written: no space is left on the disk\n  Free some space and run again.\n';

/** Starts the program and waits until it holds its lock. */
async function locked(args: readonly string[], cwd: string, lock: string) {
  const child = spawn(process.execPath, [LAUNCHER, ...args], { cwd, stdio: 'ignore' });
  const ended = new Promise<number | null>((resolve) => child.on('exit', resolve));
  while (!existsSync(path.join(cwd, lock))) await setTimeout(5);
  return { child, ended };
}

function manyRows(athletes: number): string {
  const rows = Array.from({ length: athletes }, (_, at) => `A${at},2026-08-17,Rowing,40,50,180\n`);
  return `ID,Date,Team,Grip L (kg),Grip R (kg),Height (cm)\n${rows.join('')}`;
}

describe('files that bilat did not write', () => {
  const FOREIGN = { ...SMALL, 'out/results.csv': 'mine\n', 'out/notes.txt': 'mine too\n' };

  test('a run refuses to replace one, and changes nothing', () => {
    const folder = tempFolder(FOREIGN);
    const before = contents(folder);
    expect(bilat(['run', '--folder', folder])).toEqual({
      code: 2,
      stdout: '',
      stderr: `error: ${folder}/out/results.csv: This file exists, and nothing beside it says that bilat wrote it
  Choose another name, or use --force to replace it.
`,
    });
    expect(contents(folder)).toEqual(before);
  });

  test('--force replaces it, and leaves all others alone', () => {
    const folder = tempFolder(FOREIGN);
    expect(bilat(['run', '--force'], { cwd: folder })).toMatchObject({ code: 0, stderr: '' });
    expect(readdirSync(path.join(folder, 'out')).sort()).toEqual([...RUN_FILES, 'notes.txt'].sort());
    expect(read(folder, 'out/results.csv')).toContain('\nA1,');
    expect(read(folder, 'out/notes.txt')).toBe('mine too\n');
  });

  test('its own files are replaced without a word', () => {
    const folder = tempFolder(SMALL);
    for (let time = 0; time < 2; time++) {
      expect(bilat(['run'], { cwd: folder })).toMatchObject({ code: 0, stderr: '' });
      expect(bilat(['flag', '-o', 'flagged.json'], { cwd: folder })).toEqual({ code: 0, stdout: '', stderr: '' });
    }
  });

  test.each(['ingest', 'derive', 'flag'])('bilat %s -o refuses as well', (name) => {
    const folder = tempFolder({ ...SMALL, 'table.csv': 'mine\n' });
    const before = contents(folder);
    expect(bilat([name, '-o', 'table.csv'], { cwd: folder })).toMatchObject({ code: 2, stdout: '' });
    expect(contents(folder)).toEqual(before);
    expect(bilat([name, '-o', 'table.csv', '--force'], { cwd: folder })).toMatchObject({ code: 0 });
    expect(read(folder, 'table.csv')).toContain('athlete_id,');
  });
});

describe('no input is ever changed, --force or not', () => {
  test.each(['sheets/a.csv', 'protocol.yaml', 'link.csv'])('bilat ingest -o %s', (output) => {
    const folder = tempFolder(SMALL);
    symlinkSync('sheets/a.csv', path.join(folder, 'link.csv'));
    const before = contents(folder);
    for (const force of [[], ['--force']]) {
      const { code, stdout, stderr } = bilat(['ingest', '-o', output, ...force], { cwd: folder });
      expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
      expect(stderr).toMatch(/^error: .*\n {2}.*\n$/);
      expect(contents(folder)).toEqual(before);
    }
  });
});

describe('where nothing can be written, nothing is left half written', () => {
  test.each(['ingest', 'derive', 'flag'])('bilat %s', (name) => {
    const folder = tempFolder(SMALL);
    const before = contents(folder);
    const fails = (output: string, code: number, message: string): void => {
      const done = bilat([name, '-o', output], { cwd: folder });
      expect({ ...done, stderr: done.stderr.replace(`${folder}/`, '').replace(/^(note: .*\n)+/, '') }).toEqual({
        code,
        stdout: '',
        stderr: `error: ${message}`,
      });
      expect(contents(folder)).toEqual(before);
    };
    fails('/dev/full', 3, `/dev/full: ${FULL}`);
    fails('nowhere/table.csv', 2, 'nowhere: There is no such folder\n  Make it first, or write elsewhere.\n');
    fails('sheets', 2, 'sheets: This is a folder, not a file\n  Name a file.\n');
  });

  test.each([
    ['sheets/a.csv', 'sheets/a.csv: This is a file, not a folder\n  Name a folder.\n'],
    ['nowhere/deep', 'nowhere: There is no such folder\n  Make it first, or write elsewhere.\n'],
  ])('bilat run -o %s', (output, message) => {
    const folder = tempFolder(SMALL);
    const before = contents(folder);
    const { code, stdout, stderr } = bilat(['run', '-o', output], { cwd: folder });
    expect({ code, stdout, stderr: stderr.replace(`${folder}/`, '') }).toEqual({
      code: 2,
      stdout: '',
      stderr: `error: ${message}`,
    });
    expect(contents(folder)).toEqual(before);
  });

  test.each(['run', 'ingest', 'derive', 'flag', '--help', 'run --help', '--version'])(
    'bilat %s > /dev/full',
    (command) => {
      const { code, stderr } = bash(`bilat ${command} > /dev/full`, { cwd: tempFolder(SMALL) });
      expect(code).toBe(3);
      expect(stderr.replace(/^(note: .*\n)+/, '')).toBe(`error: standard output: ${FULL}`);
    },
  );

  test('a second table that cannot be written takes the first one back', () => {
    const folder = tempFolder(SMALL);
    const before = contents(folder);
    expect(bilat(['ingest', '-o', 'o.csv', '--rejects', 'nowhere/r.csv'], { cwd: folder })).toMatchObject({ code: 2 });
    expect(contents(folder)).toEqual(before);
  });
});

describe('two at once', () => {
  test('the second run is refused, names the first, and leaves it its work', async () => {
    const folder = tempFolder({ ...SMALL, 'sheets/a.csv': manyRows(20_000) });
    const { child, ended } = await locked(['run'], folder, 'out/.bilat-lock');
    child.kill('SIGSTOP');
    expect(bilat(['run', '--folder', folder])).toEqual({
      code: 3,
      stdout: '',
      stderr: `error: ${folder}/out/.bilat-lock: Another run (process ${child.pid}) is writing here
  Wait until it has finished. If no such process is at work, delete this file.
`,
    });
    child.kill('SIGCONT');
    expect(await ended).toBe(0);
    expect(readdirSync(path.join(folder, 'out')).sort()).toEqual(RUN_FILES);
  });

  test.each([
    ['SIGINT', 130],
    ['SIGTERM', 143],
  ] as const)('%s ends with its own exit code, and nothing is left', async (signal, code) => {
    const folder = tempFolder(SMALL);
    const before = contents(folder);
    const fifo = path.join(folder, 'later.csv');
    expect(bash(`mkfifo ${fifo}`)).toMatchObject({ code: 0 });
    // The rejects wait for a reader of the pipe that never comes, while the lock of the observations is held.
    const { child, ended } = await locked(['ingest', '-o', 'o.csv', '--rejects', fifo], folder, '.bilat-o.csv-lock');
    child.kill(signal);
    expect(await ended).toBe(code);
    expect(contents(folder)).toEqual(before);
  });
});

describe('a reader that goes away', () => {
  test.each(['run', 'ingest', 'derive', 'flag', '--help'])('bilat %s | head -1', (command) => {
    const { code, stdout, stderr } = bash(`set -o pipefail; bilat ${command} 2>/dev/null | head -1`, {
      cwd: tempFolder(SMALL),
    });
    expect({ code, lines: stdout.split('\n').length, stderr }).toEqual({ code: 0, lines: 2, stderr: '' });
  });

  test('more than a pipe holds', () => {
    const folder = tempFolder({ ...SMALL, 'sheets/a.csv': manyRows(20_000) });
    const all = bash('bilat ingest | wc -l', { cwd: folder });
    expect(all.stdout.trim()).toBe('60001');
    const { code, stderr } = bash('set -o pipefail; bilat ingest --format json | head -1', { cwd: folder });
    expect({ code, stderr }).toEqual({
      code: 0,
      stderr: '1 sheet, 120006 cells: 60000 readings, 0 not measured, 60006 context, 0 ignored, 0 rejected.\n',
    });
  });
});

test('nothing on standard output but the result, and no colour in a pipe', () => {
  for (const name of ['run', 'ingest', 'derive', 'flag']) {
    const { stdout, stderr } = bilat([name], {
      cwd: tempFolder(SMALL),
      env: { FORCE_COLOR: '1', TERM: 'xterm-256color' },
    });
    expect(stdout).not.toContain('note:');
    expect(stdout + stderr).not.toContain('\u001b');
  }
});
