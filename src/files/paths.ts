import { realpathSync } from 'node:fs';
import { basename, dirname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import { Failure } from '../problems/failure.ts';

function isWithin(folder: string, path: string): boolean {
  const way = relative(folder, path);
  return way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way);
}

/** The path with all its links followed, as far as it exists. */
function realPath(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    const parent = dirname(path);
    return parent === path ? path : join(realPath(parent), basename(path));
  }
}

/**
 * The absolute path of a file that must lie in a folder.
 *
 * @throws Failure 2 if `..`, an absolute path or a link leads out of the folder
 */
export function insideFolder(folder: string, path: string): string {
  const full = resolve(folder, path);
  if (isWithin(resolve(folder), full) && isWithin(realPath(folder), realPath(full))) return full;
  throw new Failure(2, {
    file: path,
    message: 'This path leaves the folder',
    hint: `Name something inside ${folder}.`,
  });
}

/** The way from a folder to a path, with forward slashes on every system. */
export function relativePath(folder: string, path: string): string {
  return relative(folder, path).replaceAll(sep, '/');
}
