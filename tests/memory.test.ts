import { spawnSync } from 'node:child_process';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { makeFolder } from './bench/make_sheet.mjs';
import { LAUNCHER, tempFolder } from './cases/bilat.ts';

const ROWS = 1_000_000;
const MOST_MEGABYTES = 400;

test('a sheet of a million rows takes less than 400 MB of memory', { timeout: 300_000 }, () => {
  const folder = tempFolder();
  expect(makeFolder(folder, ROWS)).toBeGreaterThanOrEqual(ROWS);
  const reporter = fileURLToPath(new URL('bench/report_memory.mjs', import.meta.url));
  const done = spawnSync(process.execPath, ['--import', reporter, LAUNCHER, 'run', '--folder', folder], {
    cwd: path.dirname(LAUNCHER),
    stdio: ['ignore', 'ignore', 'pipe', 'pipe'],
    encoding: 'utf8',
    env: { ...process.env, NODE_OPTIONS: '' },
  });
  expect({ code: done.status, stderr: done.stderr }).toEqual({ code: 0, stderr: '' });
  const kilobytes = Number(done.output[3]);
  expect(kilobytes).toBeGreaterThan(0);
  expect(kilobytes / 1024).toBeLessThan(MOST_MEGABYTES);
});
