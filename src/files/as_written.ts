import { sha256File } from './hash.ts';
import { readMetadata } from './metadata.ts';

/** Whether bilat wrote a file, and nobody has changed it since. False if there is no file. */
export async function isAsWritten(path: string): Promise<boolean> {
  const metadata = readMetadata(path);
  return metadata !== undefined && (await sha256File(path).catch(() => undefined)) === metadata.sha256;
}
