import { symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { insideFolder, relativePath } from '../../src/files/paths.ts';
import { failureOf, temporaryFolder } from './helpers.ts';

test('a path inside the folder', () => {
  const folder = temporaryFolder();
  expect(insideFolder(folder, 'sheets/hip.csv')).toBe(join(folder, 'sheets', 'hip.csv'));
  expect(insideFolder(folder, 'sheets/../hip.csv')).toBe(join(folder, 'hip.csv'));
  expect(insideFolder(folder, '..hip.csv')).toBe(join(folder, '..hip.csv'));
  expect(insideFolder(folder, '.')).toBe(folder);
});

test('a path that leaves the folder, also through a link', async () => {
  const [folder, elsewhere] = [temporaryFolder(), temporaryFolder()];
  writeFileSync(join(elsewhere, 'private.csv'), '');
  symlinkSync(elsewhere, join(folder, 'link'));
  for (const path of [
    '..',
    '../x.csv',
    'sheets/../../x.csv',
    join(elsewhere, 'x.csv'),
    'link/private.csv',
    'link/new.csv',
  ]) {
    const failure = await failureOf(() => insideFolder(folder, path));
    expect([failure.exitCode, failure.troubles[0]]).toMatchObject([
      2,
      { file: path, message: 'This path leaves the folder' },
    ]);
  }
});

test('a folder that is itself reached through a link', () => {
  const folder = temporaryFolder();
  const link = join(temporaryFolder(), 'link');
  symlinkSync(folder, link);
  expect(insideFolder(link, 'x.csv')).toBe(join(link, 'x.csv'));
});

test('the way from the folder', () => {
  expect(relativePath('/a/b', '/a/b/c/d.csv')).toBe('c/d.csv');
  expect(relativePath('/a/b', '/a/d.csv')).toBe('../d.csv');
});
