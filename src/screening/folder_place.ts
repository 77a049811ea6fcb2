import { existsSync, statSync } from 'node:fs';
import path from 'node:path';
import { Failure } from '../problems/failure.ts';
import { SIDE_FILES } from './config_side_files.ts';

export const SETTINGS_FILE = 'screening.yaml';
export const USUAL_PROTOCOL = 'protocol.yaml';

export function holdsFile(folder: string, file: string): boolean {
  return existsSync(path.join(folder, file));
}

/** Whether a folder holds what a screening needs: settings, or a protocol of the usual name. */
export function isScreeningFolder(folder: string): boolean {
  return holdsFile(folder, SETTINGS_FILE) || holdsFile(folder, USUAL_PROTOCOL);
}

/** Names of the side files (roster.csv …) of the usual names that are in a folder. */
export function usualSideFiles(folder: string): ReadonlySet<string> {
  return new Set(SIDE_FILES.map((name) => `${name}.csv`).filter((file) => holdsFile(folder, file)));
}

/** The nearest folder upward that holds settings, from an absolute path on. */
export function folderUpward(from: string): string | undefined {
  for (let at = from; ; at = path.dirname(at)) {
    if (holdsFile(at, SETTINGS_FILE)) return at;
    if (at === path.dirname(at)) return undefined;
  }
}

/**
 * The absolute path of a folder that somebody names.
 * @throws Failure 2 if there is none
 */
export function namedFolder(cwd: string, named: string): string {
  const full = path.resolve(cwd, named);
  const found = statSync(full, { throwIfNoEntry: false });
  if (found?.isDirectory()) return full;
  const message = found ? 'is a file, and should be a screening folder' : 'there is no such folder';
  throw new Failure(2, { file: named, message, hint: `Name the folder that holds ${SETTINGS_FILE}.` });
}
