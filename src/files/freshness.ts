import type { Input } from './hash.ts';
import { sha256File } from './hash.ts';
import type { Provenance } from './metadata.ts';
import { readMetadata } from './metadata.ts';

/** The same files with the same bytes, in whatever order. */
function sameInputs(before: readonly Input[], now: readonly Input[]): boolean {
  const hashes = new Map(now.map(({ path, sha256 }) => [path, sha256]));
  return before.length === hashes.size && before.every(({ path, sha256 }) => hashes.get(path) === sha256);
}

/**
 * Whether a table may be used instead of being worked out anew: bilat of this version wrote it, from these inputs as
 * they are now (and by this command, if one is given), and it has not been changed since.
 */
export async function isFresh(
  path: string,
  { version, inputs, command }: Omit<Provenance, 'command'> & { readonly command?: string },
): Promise<boolean> {
  const metadata = readMetadata(path);
  if (metadata?.version !== version || (command ?? metadata.command) !== metadata.command) return false;
  return sameInputs(metadata.inputs, inputs) && (await sha256File(path).catch(() => undefined)) === metadata.sha256;
}
