// npm run bench:suspects [-- SEED ATHLETES_A_SEASON OF_EACH]: plants known entry errors in seeded sheets without any, and counts what is found.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const [seed = 20261, PER_SEASON = 600, ENOUGH = 200] = process.argv.slice(2).map(Number);
const here = path.dirname(fileURLToPath(import.meta.url));

const cell = (text, width) => String(text).padStart(width);
const share = (part, whole) => (whole === 0 ? '' : `${((100 * part) / whole).toFixed(1)} %`);
const alarms = ({ falseAlarms, readings }) => `${((100 * falseAlarms) / readings).toFixed(3)} %`;

function line(outcome) {
  const { name, planted, found, foundAsSuch, bySize } = outcome;
  const sizes = bySize.map((size) => (size.planted === 0 ? '' : `${size.found}/${size.planted}`));
  return [
    name.padEnd(38),
    cell(planted, 8),
    cell(found, 7),
    cell(share(found, planted), 9),
    cell(foundAsSuch, 9),
    ...sizes.map((text) => cell(text, 9)),
    cell(alarms(outcome), 9),
  ].join('');
}

const folder = mkdtempSync(path.join(tmpdir(), 'bilat-suspects-'));
try {
  const outfile = path.join(folder, 'measure.mjs');
  await build({
    entryPoints: [path.join(here, 'suspects/measure.ts')],
    outfile,
    bundle: true,
    format: 'esm',
    platform: 'node',
    target: 'node20.19',
    logLevel: 'error',
    banner: { js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url);" },
  });
  const { PLANTERS, measureClean, measurePlanter, measureTogether } = await import(pathToFileURL(outfile));
  const { outcome: clean, athletes } = await measureClean(seed, PER_SEASON);
  process.stdout.write(
    `seed ${seed}: ${athletes} athletes, ${clean.readings} readings a college\n` +
      `nothing planted: ${clean.falseAlarms} readings called suspect, ${alarms(clean)}\n\n` +
      `${'planted'.padEnd(38)}${cell('planted', 8)}${cell('found', 7)}${cell('', 9)}${cell('its kind', 9)}` +
      `${cell('<15 %', 9)}${cell('<40 %', 9)}${cell('more', 9)}${cell('others', 9)}\n`,
  );
  for (const planter of PLANTERS) {
    const outcome = await measurePlanter(planter, seed, PER_SEASON, ENOUGH);
    process.stdout.write(`${line(outcome)}\n`);
  }
  const together = await measureTogether(seed, PER_SEASON, 40);
  process.stdout.write(`${line(together)}\n`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
