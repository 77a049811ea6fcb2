import { chmodSync, existsSync, mkdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { isFresh } from '../../src/files/freshness.ts';
import { readMetadata } from '../../src/files/metadata.ts';
import { openStaging } from '../../src/files/staging.ts';
import { failureOf, names, temporaryFolder } from './helpers.ts';
import { PROVENANCE, READINGS, readings, readingsText } from './tables.ts';

async function write(folder: string, value: number, options = {}): Promise<void> {
  const staging = await openStaging(folder, options);
  try {
    staging.file('results.csv', READINGS).append(readings(2, value));
    staging.commit(PROVENANCE);
  } finally {
    staging.abort();
  }
}

test('a commit puts the table and its metadata in place, and nothing else', async () => {
  const folder = temporaryFolder();
  await write(folder, 7);
  expect(names(folder)).toEqual(['results-metadata.json', 'results.csv']);
  expect(readFileSync(join(folder, 'results.csv'), 'utf8')).toBe(readingsText(2, 7));
  expect(readMetadata(join(folder, 'results.csv'))?.rows).toBe(2);
  expect(await isFresh(join(folder, 'results.csv'), PROVENANCE)).toBe(true);
});

test('the same content gives the same bytes in table and metadata', async () => {
  const [one, two] = [temporaryFolder(), temporaryFolder()];
  await write(one, 7);
  await write(two, 7);
  for (const name of names(one)) expect(readFileSync(join(two, name))).toEqual(readFileSync(join(one, name)));
});

test('nothing is to be seen before the commit, and nothing after an abort', async () => {
  const folder = temporaryFolder();
  await write(folder, 1);
  const before = readFileSync(join(folder, 'results.csv'), 'utf8');
  const staging = await openStaging(folder);
  staging.file('results.csv', READINGS).append(readings(2, 2));
  expect(names(folder)).toEqual(['.bilat-lock', '.bilat-staging', 'results-metadata.json', 'results.csv']);
  expect(readFileSync(join(folder, 'results.csv'), 'utf8')).toBe(before);
  staging.abort();
  expect(names(folder)).toEqual(['results-metadata.json', 'results.csv']);
  expect(readFileSync(join(folder, 'results.csv'), 'utf8')).toBe(before);
});

test('the folder is made if only it is missing, and taken away again by an abort', async () => {
  const folder = temporaryFolder();
  (await openStaging(join(folder, 'out'))).abort();
  expect(names(folder)).toEqual([]);
  await write(join(folder, 'out'), 1);
  expect(names(folder)).toEqual(['out']);
  const deep = join(folder, 'a', 'b');
  expect(await failureOf(() => openStaging(deep))).toMatchObject({
    exitCode: 2,
    troubles: [{ file: join(folder, 'a') }],
  });
});

test('a file in place of the folder is refused', async () => {
  const path = join(temporaryFolder(), 'out');
  writeFileSync(path, '');
  const failure = await failureOf(() => openStaging(path));
  expect([failure.exitCode, failure.message]).toEqual([2, `${path}: This is a file, not a folder\n  Name a folder.`]);
});

test('what a killed run has left is swept away', async () => {
  const folder = temporaryFolder();
  mkdirSync(join(folder, '.bilat-staging'));
  writeFileSync(join(folder, '.bilat-staging', 'results.csv'), 'half a ta');
  await write(folder, 3);
  expect(names(folder)).toEqual(['results-metadata.json', 'results.csv']);
});

test('a file that bilat did not write is replaced only with force', async () => {
  const folder = temporaryFolder();
  const path = join(folder, 'results.csv');
  writeFileSync(path, 'mine');
  const failure = await failureOf(() => write(folder, 1));
  expect(failure.exitCode).toBe(2);
  expect(failure.message).toContain(path);
  expect(failure.message).toContain('--force');
  expect(readFileSync(path, 'utf8')).toBe('mine');
  expect(names(folder)).toEqual(['results.csv']);
  await write(folder, 1, { force: true });
  expect(readFileSync(path, 'utf8')).toBe(readingsText(2, 1));
});

test('metadata that somebody else wrote are not replaced either', async () => {
  const folder = temporaryFolder();
  writeFileSync(join(folder, 'results-metadata.json'), '{"url": "results.csv"}');
  expect((await failureOf(() => write(folder, 1))).message).toContain('results-metadata.json: This file exists');
});

test('a link or a folder in place of a file is refused, with force too', async () => {
  const folder = temporaryFolder();
  const elsewhere = join(temporaryFolder(), 'private.csv');
  writeFileSync(elsewhere, 'private');
  symlinkSync(elsewhere, join(folder, 'results.csv'));
  const failure = await failureOf(() => write(folder, 1, { force: true }));
  expect([failure.exitCode, failure.troubles[0].message]).toEqual([
    2,
    'This is a symbolic link, and bilat does not write through links',
  ]);
  expect(readFileSync(elsewhere, 'utf8')).toBe('private');

  const other = temporaryFolder();
  mkdirSync(join(other, 'results.csv'));
  expect((await failureOf(() => write(other, 1, { force: true }))).message).toContain('This is a folder, not a file');
});

test('a staging folder that is a link is removed as a link', async () => {
  const [folder, elsewhere] = [temporaryFolder(), temporaryFolder()];
  writeFileSync(join(elsewhere, 'kept'), '');
  symlinkSync(elsewhere, join(folder, '.bilat-staging'));
  await write(folder, 1);
  expect(existsSync(join(elsewhere, 'kept'))).toBe(true);
});

test('an input is never replaced, with force either', async () => {
  const folder = temporaryFolder();
  await write(folder, 1);
  const inputs = [join(folder, 'results.csv')];
  const failure = await failureOf(() => write(folder, 2, { force: true, inputs }));
  expect(failure.troubles[0].message).toBe('This file is read by the same command, and no input is ever changed');
});

test('a replaced file keeps its permissions', async () => {
  const folder = temporaryFolder();
  await write(folder, 1);
  chmodSync(join(folder, 'results.csv'), 0o600);
  await write(folder, 2);
  expect(statSync(join(folder, 'results.csv')).mode & 0o777).toBe(0o600);
});
