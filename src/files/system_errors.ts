import { Failure } from '../problems/failure.ts';

/** What the operating system says, in plain words; and what to do, where there is more to do than to look. */
const WORDS: { readonly [code: string]: readonly [words: string, hint?: string] } = {
  ENOSPC: ['no space is left on the disk', 'Free some space and run again.'],
  EDQUOT: ['the disk quota is used up', 'Free some space and run again.'],
  EFBIG: ['the file is larger than allowed here', 'Write to another disk, or raise the limit.'],
  EACCES: ['permission is denied', 'Ask for the permission, or choose another place.'],
  EPERM: ['permission is denied', 'Ask for the permission, or choose another place.'],
  EROFS: ['the disk is read-only', 'Choose another place.'],
  EISDIR: ['it is a folder, not a file'],
  ENOTDIR: ['a part of this path is a file, not a folder'],
  ENOENT: ['there is no such file or folder'],
  ENAMETOOLONG: ['the name is too long'],
  ENXIO: ['nothing reads from it'],
  EMFILE: ['too many files are open'],
  ENFILE: ['too many files are open'],
  EIO: ['the disk reports an error', 'Check the disk.'],
};

/** The code of a system error (`ENOSPC`), or undefined for any other error. */
export function systemCode(error: unknown): string | undefined {
  const code = error instanceof Error ? (error as NodeJS.ErrnoException).code : undefined;
  return typeof code === 'string' ? code : undefined;
}

/** A system error as a Failure with exit code 3 that names the path; any other error as it is. */
export function systemFailure(error: unknown, path: string, done: 'read' | 'written'): unknown {
  const code = systemCode(error);
  if (code === undefined) return error;
  const [words, hint] = WORDS[code] ?? [`the system answers ${code}`];
  return new Failure(3, { file: path, message: `Could not be ${done}: ${words}`, hint });
}

/** Runs an action that writes `path`; its system errors become Failures. */
export function writing<T>(path: string, action: () => T): T {
  try {
    return action();
  } catch (error) {
    throw systemFailure(error, path, 'written');
  }
}

/** Runs a clean-up whose failure must not hide what made it necessary. */
export function quietly(action: () => void): void {
  try {
    action();
  } catch {
    // What is left behind is swept away by the next run.
  }
}
