import { existsSync } from 'node:fs';
import path from 'node:path';
import { glob } from 'tinyglobby';
import { nearest } from '../protocol/nearest.ts';

const SPECIAL = /[*?{}[\]!()]/;

/** The folder that a path or pattern of `files:` looks in, as far as it is written out; '.' for the screening folder. */
function folderOf(pattern: string): string {
  const parts = pattern.split('/').slice(0, -1);
  const at = parts.findIndex((part) => SPECIAL.test(part));
  return (at < 0 ? parts : parts.slice(0, at)).join('/') || '.';
}

/**
 * Why a path or pattern of `files:` matches nothing, as a hint: its folder is not there, or a file is written otherwise.
 * @param files that could be meant, relative to the folder
 */
export async function whyNoFile(
  folder: string,
  pattern: string,
  files: readonly string[],
): Promise<string | undefined> {
  const within = folderOf(pattern);
  const near = SPECIAL.test(pattern) ? await nearPattern(folder, pattern) : nearFile(pattern, files);
  const meant = near && `Did you mean ${near}?`;
  if (existsSync(path.resolve(folder, within))) return meant;
  return [`There is no folder ${within}/ here.`, ...(meant ? [meant] : [])].join(' ');
}

function nearFile(file: string, files: readonly string[]): string | undefined {
  const same = (one: string, other: string): boolean => one.toLowerCase() === other.toLowerCase();
  const { basename } = path.posix;
  const stems = new Map(files.map((other) => [path.posix.parse(other).name, other]));
  const stem = nearest(path.posix.parse(file).name, stems.keys());
  return (
    files.find((other) => same(other, file)) ??
    files.find((other) => same(basename(other), basename(file))) ??
    (stem === undefined ? undefined : stems.get(stem))
  );
}

/** A pattern cannot be corrected; a file that it fits when capitals do not count shows what is wrong. */
async function nearPattern(folder: string, pattern: string): Promise<string | undefined> {
  const options = { cwd: folder, onlyFiles: true, expandDirectories: false, caseSensitiveMatch: false };
  return (await glob(pattern, options)).sort()[0];
}
