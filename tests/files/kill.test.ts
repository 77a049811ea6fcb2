import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { describe, expect, test } from 'vitest';
import { isFresh } from '../../src/files/freshness.ts';
import { POINTS } from '../../src/files/points.ts';
import { ended, names, sessionProgram, start, stopWhenReady, temporaryFolder } from './helpers.ts';
import { PROVENANCE, readingsText } from './tables.ts';

const session = sessionProgram();

const TABLES = ['first.csv', 'second.csv'];
const PLACED = ['first-metadata.json', 'first.csv', 'second-metadata.json', 'second.csv'];

function run(folder: string, value: number, env: NodeJS.ProcessEnv = {}) {
  return ended(start(process.execPath, [session, 'run', folder, String(value)], { env: { ...process.env, ...env } }));
}

async function expectWhole(folder: string, value: number): Promise<void> {
  expect(names(folder)).toEqual(PLACED);
  for (const table of TABLES) {
    expect(readFileSync(join(folder, table), 'utf8')).toBe(readingsText(3, value));
    expect(await isFresh(join(folder, table), PROVENANCE)).toBe(true);
  }
}

// Points that are passed once for each of the two tables.
const TWICE = new Set(['file_written', 'metadata_renamed', 'file_renamed']);
const STOPS = POINTS.flatMap((name) => (TWICE.has(name) ? [name, `${name}:2`] : [name]));

describe('killed', () => {
  test.each(STOPS)('at %s: tables are whole, old or new, and the next run is as if nothing had been', async (stop) => {
    const folder = temporaryFolder();
    expect(await run(folder, 1)).toMatchObject({ code: 0, stderr: '' });
    expect(await run(folder, 2, { BILAT_TEST_STOP_AT: stop })).toMatchObject({ signal: 'SIGKILL' });
    for (const table of TABLES) {
      const text = readFileSync(join(folder, table), 'utf8');
      expect([readingsText(3, 1), readingsText(3, 2)]).toContain(text);
      const isNew = text === readingsText(3, 2);
      if (stop.startsWith('before_unlock')) expect(isNew).toBe(true);
      if (!stop.includes('rename') && stop !== 'before_unlock') expect(isNew).toBe(false);
    }
    expect(await run(folder, 3)).toMatchObject({ code: 0, stderr: '' });
    await expectWhole(folder, 3);
  });

  test('between metadata and table: the old table is not taken for fresh', async () => {
    const folder = temporaryFolder();
    await run(folder, 1);
    await run(folder, 2, { BILAT_TEST_STOP_AT: 'metadata_renamed' });
    expect(readFileSync(join(folder, 'first.csv'), 'utf8')).toBe(readingsText(3, 1));
    expect(await isFresh(join(folder, 'first.csv'), PROVENANCE)).toBe(false);
    expect(await isFresh(join(folder, 'second.csv'), PROVENANCE)).toBe(true);
  });

  test('at any moment: the same', async () => {
    const folder = temporaryFolder();
    const rows = 20_000;
    const args = (value: number) => [session, 'run', folder, String(value), String(rows)];
    const began = performance.now();
    await ended(start(process.execPath, args(0)));
    const whole = performance.now() - began;
    const texts = [readingsText(rows, 0)];
    for (let part = 1; part <= 10; part++) {
      const child = start(process.execPath, args(part));
      const end = ended(child);
      await setTimeout((whole * part) / 11);
      child.kill('SIGKILL');
      await end;
      texts.push(readingsText(rows, part));
      // Not toContain: a failure would print megabytes.
      for (const table of TABLES) expect(texts.includes(readFileSync(join(folder, table), 'utf8'))).toBe(true);
    }
    await run(folder, 11);
    await expectWhole(folder, 11);
  });

  test.each(STOPS)('in a first run at %s: no partial table', async (stop) => {
    const folder = temporaryFolder();
    await run(folder, 2, { BILAT_TEST_STOP_AT: stop });
    for (const path of TABLES.map((table) => join(folder, table))) {
      if (existsSync(path)) expect(readFileSync(path, 'utf8')).toBe(readingsText(3, 2));
    }
    expect(await run(folder, 3)).toMatchObject({ code: 0, stderr: '' });
    await expectWhole(folder, 3);
  });
});

describe('stopped by', () => {
  test.each([
    ['SIGINT', 130],
    ['SIGTERM', 143],
    ['SIGHUP', 129],
  ] as const)('%s half-way: nothing temporary stays, the exit code is %i', async (signal, code) => {
    const folder = temporaryFolder();
    await run(folder, 1);
    const child = start(process.execPath, [session, 'pause', folder, '2']);
    expect(await stopWhenReady(child, signal)).toMatchObject({ code, stderr: '' });
    await expectWhole(folder, 1);
  });

  test('SIGTERM in a first run: the folder that it made is gone', async () => {
    const folder = temporaryFolder();
    const child = start(process.execPath, [session, 'pause', join(folder, 'out'), '2']);
    expect(await stopWhenReady(child, 'SIGTERM')).toMatchObject({ code: 143 });
    expect(names(folder)).toEqual([]);
  });

  test('SIGTERM while a named pipe has no reader', async () => {
    const folder = temporaryFolder();
    const pipe = join(folder, 'pipe');
    execFileSync('mkfifo', [pipe]);
    const child = start(process.execPath, [session, 'outputs', pipe]);
    expect(await stopWhenReady(child, 'SIGTERM')).toMatchObject({ code: 143 });
    expect(names(folder)).toEqual(['pipe']);
  });
});
