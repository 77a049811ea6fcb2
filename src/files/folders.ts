import { mkdirSync, rmSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import { Failure } from '../problems/failure.ts';
import { systemCode, systemFailure, writing } from './system_errors.ts';

function missing(folder: string): Failure {
  return new Failure(2, {
    file: folder,
    message: 'There is no such folder',
    hint: 'Make it first, or write elsewhere.',
  });
}

/** Throws Failure 2 if there is no such folder. */
export function requireFolder(folder: string): void {
  if (!writing(folder, () => statSync(folder, { throwIfNoEntry: false }))?.isDirectory()) throw missing(folder);
}

/** Makes a folder inside one that exists. Returns whether it was made; false if it was there. */
export function makeFolder(folder: string): boolean {
  try {
    mkdirSync(folder);
    return true;
  } catch (error) {
    const stat = writing(folder, () => statSync(folder, { throwIfNoEntry: false }));
    if (stat?.isDirectory()) return false;
    if (stat) throw new Failure(2, { file: folder, message: 'This is a file, not a folder', hint: 'Name a folder.' });
    if (['ENOENT', 'ENOTDIR'].includes(systemCode(error) ?? '')) throw missing(dirname(folder));
    throw systemFailure(error, folder, 'written');
  }
}

/** Makes a folder for this user alone, in place of one that a killed run has left. */
export function makeAnew(folder: string): void {
  writing(folder, () => {
    rmSync(folder, { recursive: true, force: true });
    mkdirSync(folder, 0o700);
  });
}
