import type { Stats } from 'node:fs';
import { lstatSync, realpathSync } from 'node:fs';
import type { Trouble } from '../problems/failure.ts';
import { Failure } from '../problems/failure.ts';
import { metadataPath, readMetadata } from './metadata.ts';
import { systemFailure } from './system_errors.ts';

export interface TargetOptions {
  /** replace files that bilat did not write */
  readonly force?: boolean;
  /** what the run reads: never replaced, not even with force */
  readonly inputs?: readonly string[];
}

/** Whether the metadata beside a file say that bilat wrote it. */
export function isOurs(path: string): boolean {
  return readMetadata(path) !== undefined;
}

function statOf(path: string): Stats | undefined {
  try {
    return lstatSync(path, { throwIfNoEntry: false });
  } catch (error) {
    throw systemFailure(error, path, 'written');
  }
}

function realOrSame(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return path;
  }
}

/** What stands against putting a plain file at this path, whoever owns it. */
function obstacle(file: string, stat: Stats | undefined): Trouble | undefined {
  if (stat === undefined || stat.isFile()) return undefined;
  if (stat.isDirectory()) return { file, message: 'This is a folder, not a file', hint: 'Name a file.' };
  if (!stat.isSymbolicLink()) return { file, message: 'This is a device, not a file', hint: 'Name a file.' };
  return {
    file,
    message: 'This is a symbolic link, and bilat does not write through links',
    hint: 'Remove the link, or name the file itself.',
  };
}

function trouble(file: string, force: boolean, inputs: ReadonlySet<string>): Trouble | undefined {
  const stat = statOf(file);
  const metadata = metadataPath(file);
  const metadataStat = statOf(metadata);
  const blocked = obstacle(file, stat) ?? obstacle(metadata, metadataStat);
  if (blocked) return blocked;
  if (stat && inputs.has(realOrSame(file))) {
    return {
      file,
      message: 'This file is read by the same command, and no input is ever changed',
      hint: 'Write to another file.',
    };
  }
  const foreign = stat ? file : metadataStat && metadata;
  if (force || foreign === undefined || isOurs(file)) return undefined;
  return {
    file: foreign,
    message: 'This file exists, and nothing beside it says that bilat wrote it',
    hint: 'Choose another name, or use --force to replace it.',
  };
}

/**
 * Makes sure that files may be written, together with the metadata beside them.
 *
 * @throws Failure 2 that names every path that is a folder, a link, a device, an input, or, unless forced, a file that
 * bilat did not write
 */
export function checkTargets(paths: readonly string[], { force = false, inputs = [] }: TargetOptions = {}): void {
  const read = new Set(inputs.map(realOrSame));
  const troubles = paths.flatMap((path) => trouble(path, force, read) ?? []);
  if (troubles.length > 0) throw new Failure(2, troubles);
}
