// A program for the tests to stop, starve and pipe: one writing session, told by its arguments what to do.
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { takeLock } from '../../src/files/lock.ts';
import { openOutput } from '../../src/files/output.ts';
import { openStaging } from '../../src/files/staging.ts';
import { writeStderr, writeStdout } from '../../src/files/stdout.ts';
import { Failure } from '../../src/problems/failure.ts';
import { PROVENANCE, READINGS, readings } from './tables.ts';
import { writeFileWhole } from './whole.ts';

const [action, path, value = '0', rows = '3'] = process.argv.slice(2);

/** Two tables whose every cell is `value`; stops half-way for whoever waits for `ready` if `pause`. */
async function run(pause: boolean): Promise<void> {
  const staging = await openStaging(path);
  try {
    const first = staging.file('first.csv', READINGS);
    const second = staging.file('second.csv', READINGS);
    first.append(readings(Number(rows), Number(value)));
    if (pause) await wait();
    second.append(readings(Number(rows), Number(value)));
    staging.commit(PROVENANCE);
  } finally {
    staging.abort();
  }
}

async function wait(): Promise<void> {
  writeFileSync(1, 'ready\n');
  await setTimeout(60_000);
}

const ACTIONS: { readonly [name: string]: () => Promise<void> } = {
  run: () => run(false),
  pause: () => run(true),
  lock: async () => {
    await takeLock(join(path, '.bilat-lock'));
    await wait();
  },
  race: async () => {
    const lock = await takeLock(join(path, '.bilat-lock'));
    writeFileSync(`${path}/inside`, '', { flag: 'wx' });
    await setTimeout(200);
    writeFileSync(1, 'done\n');
    rmSync(`${path}/inside`);
    lock.release();
  },
  output: () => writeFileWhole(path, [`${value}\n`.repeat(Number(rows))], PROVENANCE),
  outputs: async () => {
    const other = await openOutput(`${path}.rejects.csv`);
    try {
      writeFileSync(1, 'ready\n');
      const pipe = await openOutput(path);
      for (;;) await pipe.write('x'.repeat(100_000));
    } finally {
      other.abort();
    }
  },
  stdout: async () => {
    for (let row = 0; row < Number(rows); row++) await writeStdout(`${value}\n`);
    await writeStderr('done\n');
  },
};

try {
  await ACTIONS[action]();
} catch (error) {
  if (!(error instanceof Failure)) throw error;
  await writeStderr(`${error.message}\n`);
  process.exitCode = error.exitCode;
}
