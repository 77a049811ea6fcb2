import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { join } from 'node:path';
import { systemFailure } from './system_errors.ts';

/** An input of a table: its path, relative to the folder and with forward slashes, and what was in it. */
export interface Input {
  readonly path: string;
  /** SHA-256 of its bytes, in hexadecimal digits */
  readonly sha256: string;
}

/** SHA-256 of a file's bytes in hexadecimal digits (FIPS 180-4). Throws Failure 3 if the file cannot be read. */
export async function sha256File(path: string): Promise<string> {
  const hash = createHash('sha256');
  try {
    for await (const piece of createReadStream(path, { highWaterMark: 1 << 20 })) hash.update(piece);
  } catch (error) {
    throw systemFailure(error, path, 'read');
  }
  return hash.digest('hex');
}

/** What is in each of the inputs now. Paths are relative to the folder. */
export async function hashInputs(folder: string, paths: Iterable<string>): Promise<Input[]> {
  const inputs: Input[] = [];
  for (const path of new Set(paths)) inputs.push({ path, sha256: await sha256File(join(folder, path)) });
  return inputs;
}
