import { spawnSync } from 'node:child_process';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, expect, test } from 'vitest';
import { makeFolder } from './bench/make_sheet.mjs';
import { LAUNCHER, tempFolder } from './cases/bilat.ts';

const ROWS = 1_000_000;
let folder: string;

beforeAll(() => {
  folder = tempFolder();
  expect(makeFolder(folder, ROWS)).toBeGreaterThanOrEqual(ROWS);
}, 60_000);

// Judging needs what its results need. A run also holds every reading, to find entry errors among them.
test.each([
  ['flag', 400],
  ['run', 1000],
])('%s of a sheet of a million rows takes less than %i MB of memory', { timeout: 300_000 }, (command, most) => {
  const reporter = fileURLToPath(new URL('bench/report_memory.mjs', import.meta.url));
  const done = spawnSync(process.execPath, ['--import', reporter, LAUNCHER, command, '--folder', folder], {
    cwd: path.dirname(LAUNCHER),
    stdio: ['ignore', 'ignore', 'pipe', 'pipe'],
    encoding: 'utf8',
    env: { ...process.env, NODE_OPTIONS: '' },
  });
  expect(done.status).toBe(0);
  const kilobytes = Number(done.output[3]);
  expect(kilobytes).toBeGreaterThan(0);
  expect(kilobytes / 1024).toBeLessThan(most);
});
