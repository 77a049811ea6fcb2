import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { takeLock } from '../../src/files/lock.ts';
import { openStaging } from '../../src/files/staging.ts';
import { ended, failureOf, names, sessionProgram, start, stopWhenReady, temporaryFolder } from './helpers.ts';

const session = sessionProgram();

function holder(pid: number, host = hostname()): string {
  return `${JSON.stringify({ pid, host, token: '0123abcd' })}\n`;
}

/** The id of a process that is no more. */
async function deadProcess(): Promise<number> {
  const child = start(process.execPath, ['-e', '']);
  await ended(child);
  return child.pid!;
}

test('the second run in a folder is refused and told by whom', async () => {
  const folder = temporaryFolder();
  const child = start(process.execPath, [session, 'lock', folder]);
  const end = ended(child);
  await new Promise((resolve) => child.stdout!.once('data', resolve));
  const failure = await failureOf(() => takeLock(join(folder, '.bilat-lock')));
  expect(failure.exitCode).toBe(3);
  expect(failure.message).toBe(
    `${join(folder, '.bilat-lock')}: Another run (process ${child.pid}) is writing here\n` +
      '  Wait until it has finished. If no such process is at work, delete this file.',
  );
  child.kill('SIGTERM');
  expect(await end).toMatchObject({ code: 143 });
  expect(names(folder)).toEqual([]);
});

test('a second session of the same process is refused too, until the first is over', async () => {
  const folder = temporaryFolder();
  const first = await openStaging(folder);
  expect((await failureOf(() => openStaging(folder))).message).toContain(`process ${process.pid}`);
  first.abort();
  (await openStaging(folder)).abort();
  expect(names(folder)).toEqual([]);
});

test('the lock of a killed run is taken over', async () => {
  const folder = temporaryFolder();
  const child = start(process.execPath, [session, 'lock', folder]);
  expect(await stopWhenReady(child, 'SIGKILL')).toMatchObject({ signal: 'SIGKILL' });
  expect(names(folder)).toEqual(['.bilat-lock']);
  const lock = await takeLock(join(folder, '.bilat-lock'));
  expect(JSON.parse(readFileSync(join(folder, '.bilat-lock'), 'utf8')).pid).toBe(process.pid);
  lock.release();
  expect(names(folder)).toEqual([]);
});

test('a lock with our own process id that we did not take is a dead one: ids come round again', async () => {
  const folder = temporaryFolder();
  writeFileSync(join(folder, '.bilat-lock'), holder(process.pid));
  (await takeLock(join(folder, '.bilat-lock'))).release();
  expect(names(folder)).toEqual([]);
});

test('a lock of another machine is respected', async () => {
  const folder = temporaryFolder();
  writeFileSync(join(folder, '.bilat-lock'), holder(await deadProcess(), 'another-machine'));
  expect((await failureOf(() => takeLock(join(folder, '.bilat-lock')))).message).toContain(
    'on another-machine) is writing here',
  );
  expect(existsSync(join(folder, '.bilat-lock'))).toBe(true);
});

test('an empty lock, left by a run killed while it made it, is taken over', async () => {
  const folder = temporaryFolder();
  writeFileSync(join(folder, '.bilat-lock'), '');
  (await takeLock(join(folder, '.bilat-lock'))).release();
  expect(names(folder)).toEqual([]);
});

test('a claim to a dead lock that was left by a killed run is taken over as well', async () => {
  const folder = temporaryFolder();
  const dead = await deadProcess();
  writeFileSync(join(folder, '.bilat-lock'), holder(dead));
  writeFileSync(join(folder, '.bilat-lock-0123abcd'), holder(dead));
  (await takeLock(join(folder, '.bilat-lock'))).release();
  expect(names(folder)).toEqual([]);
});

test('of many runs that find a dead lock at once, no two hold it together', async () => {
  const folder = temporaryFolder();
  writeFileSync(join(folder, '.bilat-lock'), holder(await deadProcess()));
  const runs = Array.from({ length: 8 }, () => ended(start(process.execPath, [session, 'race', folder])));
  const ends = await Promise.all(runs);
  const winners = ends.filter(({ code, stdout }) => code === 0 && stdout === 'done\n');
  const refused = ends.filter(({ code, stderr }) => code === 3 && stderr.includes('is writing here'));
  expect(winners.length).toBeGreaterThanOrEqual(1);
  expect(winners.length + refused.length).toBe(ends.length);
  expect(names(folder)).toEqual([]);
});

test('a released lock stays released', async () => {
  const folder = temporaryFolder();
  const lock = await takeLock(join(folder, '.bilat-lock'));
  lock.release();
  const other = await takeLock(join(folder, '.bilat-lock'));
  lock.release();
  expect(names(folder)).toEqual(['.bilat-lock']);
  other.release();
});
