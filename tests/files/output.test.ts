import { execFileSync } from 'node:child_process';
import { chmodSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { openOutput } from '../../src/files/output.ts';
import { ended, failureOf, names, sessionProgram, start, temporaryFolder } from './helpers.ts';
import { PROVENANCE, READINGS, readings, readingsText } from './tables.ts';
import { writeFileWhole, writeTableWhole } from './whole.ts';

const session = sessionProgram();

/** Runs a shell line in which `session` stands for the program of session.ts. */
function shell(line: string, cwd: string, uid?: number) {
  const program = `${process.execPath} ${session}`;
  return ended(start('bash', ['-c', `session() { ${program} "$@"; }; ${line}`], { cwd, uid }));
}

describe('a file', () => {
  test('is written whole, with metadata beside it, and again', async () => {
    const folder = temporaryFolder();
    const path = join(folder, 'readings.csv');
    await writeTableWhole(path, readings(2, 1), PROVENANCE);
    await writeTableWhole(path, readings(3, 2), PROVENANCE);
    expect(readFileSync(path, 'utf8')).toBe(readingsText(3, 2));
    expect(names(folder)).toEqual(['readings-metadata.json', 'readings.csv']);
    await writeFileWhole(join(folder, 'readings.json'), ['[\n', ']\n'], PROVENANCE);
    await writeFileWhole(join(folder, 'readings.json'), ['[', ']\n'], PROVENANCE);
    expect(readFileSync(join(folder, 'readings.json'), 'utf8')).toBe('[]\n');
    await writeTableWhole(path, readings(1, 3), PROVENANCE);
  });

  test('in batches, beside another in the same folder', async () => {
    const folder = temporaryFolder();
    const one = await openOutput(join(folder, 'one.csv'), { schema: READINGS });
    const two = await openOutput(join(folder, 'two.csv'), { schema: READINGS });
    await one.append(readings(1, 1));
    await two.append(readings(1, 2));
    await one.commit(PROVENANCE);
    two.abort();
    expect(names(folder)).toEqual(['one-metadata.json', 'one.csv']);
    expect(readFileSync(join(folder, 'one.csv'), 'utf8')).toBe(readingsText(1, 1));
  });

  test('that fails half-way leaves nothing', async () => {
    const folder = temporaryFolder();
    function* pieces() {
      yield 'a,b\n';
      throw new Error('half-way');
    }
    await expect(writeFileWhole(join(folder, 'x.csv'), pieces(), PROVENANCE)).rejects.toThrow('half-way');
    expect(names(folder)).toEqual([]);
  });

  test('that is there and foreign is refused, and replaced with force', async () => {
    const folder = temporaryFolder();
    const path = join(folder, 'mine.csv');
    writeFileSync(path, 'mine');
    const failure = await failureOf(() => writeFileWhole(path, ['theirs'], PROVENANCE));
    expect([failure.exitCode, failure.message]).toEqual([
      2,
      `${path}: This file exists, and nothing beside it says that bilat wrote it\n` +
        '  Choose another name, or use --force to replace it.',
    ]);
    expect(readFileSync(path, 'utf8')).toBe('mine');
    await writeFileWhole(path, ['theirs'], PROVENANCE, { force: true });
    expect(readFileSync(path, 'utf8')).toBe('theirs');
  });

  test('that is a folder, or in a folder that is missing, is refused', async () => {
    const folder = temporaryFolder();
    mkdirSync(join(folder, 'sub'));
    for (const [path, message] of [
      [join(folder, 'sub'), `${join(folder, 'sub')}: This is a folder, not a file`],
      [join(folder, 'new/'), `${join(folder, 'new/')}: This names a folder`],
      [join(folder, 'missing', 'x.csv'), `${join(folder, 'missing')}: There is no such folder`],
    ]) {
      const failure = await failureOf(() => writeFileWhole(path, [''], PROVENANCE));
      expect(failure.exitCode).toBe(2);
      expect(failure.message).toContain(message);
    }
    expect(names(folder)).toEqual(['sub']);
  });

  test('in a folder that may not be written to', async () => {
    const folder = temporaryFolder();
    chmodSync(folder, 0o555);
    // The superuser may write everywhere, so the child is somebody else (65534 is nobody by convention).
    const end = await shell('session output x.csv', folder, process.getuid?.() === 0 ? 65534 : undefined);
    expect(end.code).toBe(3);
    expect(end.stderr).toContain('Could not be written: permission is denied');
    expect(names(folder)).toEqual([]);
  });

  test('on a disk that takes only a part of it: one message, the old file stays, nothing half written', async () => {
    const folder = temporaryFolder();
    expect(await shell('session output x.csv old', folder)).toMatchObject({ code: 0, stderr: '' });
    // A limit of 8 KB on the size of files stands for the full disk: a short write, then an error.
    const end = await shell('ulimit -f 8; session output x.csv new 10000', folder);
    expect(end).toMatchObject({ code: 3 });
    expect(end.stderr).toBe(
      'x.csv: Could not be written: the file is larger than allowed here\n  Write to another disk, or raise the limit.\n',
    );
    expect(readFileSync(join(folder, 'x.csv'), 'utf8')).toBe('old\nold\nold\n');
    expect(names(folder)).toEqual(['x-metadata.json', 'x.csv']);
  });
});

describe('a device or a pipe is written directly', () => {
  test('/dev/null', async () => {
    await writeTableWhole('/dev/null', readings(2, 1), PROVENANCE);
  });

  test('/dev/full', async () => {
    const failure = await failureOf(() => writeFileWhole('/dev/full', ['x'], PROVENANCE));
    expect([failure.exitCode, failure.message]).toEqual([
      3,
      '/dev/full: Could not be written: no space is left on the disk\n  Free some space and run again.',
    ]);
  });

  test('/dev/stdout, into a pipe and into a file', async () => {
    const folder = temporaryFolder();
    const end = await shell('session output /dev/stdout 12345 100000 | wc -c', folder);
    expect(end).toMatchObject({ code: 0, stdout: '600000\n', stderr: '' });
    await shell('session output /dev/stdout 12345 100000 > all.txt', folder);
    expect(readFileSync(join(folder, 'all.txt'), 'utf8')).toBe('12345\n'.repeat(100_000));
    expect(names(folder)).toEqual(['all.txt']);
  });

  test('a named pipe, with a slow reader, and with one that leaves', async () => {
    const folder = temporaryFolder();
    execFileSync('mkfifo', [join(folder, 'pipe')]);
    const slow = '(sleep 0.3; head -c 1000; sleep 0.3; cat) < pipe | wc -c & session output pipe 12345 100000; wait';
    expect(await shell(slow, folder)).toMatchObject({ code: 0, stdout: '600000\n', stderr: '' });
    const leaves = 'head -c 6 < pipe & session output pipe 12345 100000';
    expect(await shell(leaves, folder)).toMatchObject({ code: 0, stdout: '12345\n', stderr: '' });
    expect(names(folder)).toEqual(['pipe']);
  });

  test('a process substitution', async () => {
    const line = 'session output >(wc -c) 12345 100000; sleep 0.3';
    expect(await shell(line, temporaryFolder())).toMatchObject({ code: 0, stdout: '600000\n', stderr: '' });
  });
});

describe('standard output', () => {
  test('delivers all through a pipe', async () => {
    const end = await shell('session stdout - 12345 100000 | (sleep 0.3; wc -c)', temporaryFolder());
    expect(end).toMatchObject({ code: 0, stdout: '600000\n', stderr: 'done\n' });
  });

  test('stops without a word when the reader leaves', async () => {
    const end = await shell('set -o pipefail; session stdout - 12345 100000 | head -1', temporaryFolder());
    expect(end).toMatchObject({ code: 0, stdout: '12345\n', stderr: 'done\n' });
  });

  test('says so when the disk is full, also if only the last piece does not fit', async () => {
    const folder = temporaryFolder();
    const full = await shell('session stdout - 12345 > /dev/full', folder);
    expect([full.code, full.stderr]).toEqual([
      3,
      'standard output: Could not be written: no space is left on the disk\n  Free some space and run again.\n',
    ]);
    const last = await shell(`ulimit -f 8; session stdout - ${'x'.repeat(8999)} 1 > all.txt`, folder);
    expect(last).toMatchObject({ code: 3 });
  });

  test('standard error that cannot be written is no failure', async () => {
    expect(await shell('session stdout - 1 1 2> /dev/full', temporaryFolder())).toMatchObject({
      code: 0,
      stdout: '1\n',
    });
    const line = 'set -o pipefail; session stdout - 1 1 2>&1 >/dev/null | true';
    expect(await shell(line, temporaryFolder())).toMatchObject({ code: 0 });
  });
});
