// npm run bench [-- 100000 1000000]: rows per second and peak memory, as ratios to PapaParse reading the same file.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { makeFolder } from './make_sheet.mjs';

const REPEATS = 3;
const here = path.dirname(fileURLToPath(import.meta.url));
const bilat = path.resolve(here, '../../bin/bilat.js');
const sizes = process.argv.slice(2).map(Number);

/** Fastest of some runs, since everything else on the machine only ever makes it slower. */
function measure(script, args) {
  let seconds = Number.POSITIVE_INFINITY;
  let memory = 0;
  for (let run = 0; run < REPEATS; run++) {
    const started = performance.now();
    const done = spawnSync(process.execPath, ['--import', path.join(here, 'report_memory.mjs'), script, ...args], {
      stdio: ['ignore', 'ignore', 'pipe', 'pipe'],
      encoding: 'utf8',
    });
    if (done.status !== 0) throw new Error(`${args.join(' ')} ended with ${done.status}: ${done.stderr}`);
    seconds = Math.min(seconds, (performance.now() - started) / 1000);
    memory = Math.max(memory, Number(done.output[3]) / 1024);
  }
  return { seconds, memory };
}

const cell = (text, width) => String(text).padStart(width);

for (const size of sizes.length > 0 ? sizes : [100_000, 1_000_000]) {
  const folder = mkdtempSync(path.join(tmpdir(), 'bilat-bench-'));
  try {
    const rows = makeFolder(folder, size);
    const sheet = path.join(folder, 'sheets/archive.csv');
    const observations = path.join(folder, 'observations.csv');
    const megabytes = statSync(sheet).size / 1e6;
    process.stdout.write(`\n${rows} rows, ${megabytes.toFixed(1)} MB\n`);
    process.stdout.write(
      `${'job'.padEnd(34)}${cell('s', 8)}${cell('rows/s', 12)}${cell('MB peak', 10)}${cell('ratio', 8)}\n`,
    );
    const jobs = [
      ['PapaParse reading alone', path.join(here, 'papaparse_alone.mjs'), [sheet]],
      ['ingest', bilat, ['ingest', '--folder', folder, '-o', observations, '--force']],
      [
        'derive from observations',
        bilat,
        ['derive', observations, '--folder', folder, '-o', path.join(folder, 'results.csv'), '--force'],
      ],
      ['run (the whole)', bilat, ['run', '--folder', folder]],
    ];
    let baseline;
    for (const [name, script, args] of jobs) {
      const { seconds, memory } = measure(script, args);
      baseline ??= seconds;
      process.stdout.write(
        `${name.padEnd(34)}${cell(seconds.toFixed(2), 8)}${cell(Math.round(rows / seconds), 12)}${cell(Math.round(memory), 10)}${cell((seconds / baseline).toFixed(2), 8)}\n`,
      );
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
