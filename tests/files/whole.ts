import type { Provenance } from '../../src/files/metadata.ts';
import { type Output, type OutputOptions, openOutput } from '../../src/files/output.ts';
import type { TargetOptions } from '../../src/files/ownership.ts';
import type { Table } from '../../src/tables/table.ts';

async function whole(
  path: string | undefined,
  options: OutputOptions,
  provenance: Provenance,
  fill: (output: Output) => Promise<void>,
): Promise<void> {
  const output = await openOutput(path, options);
  try {
    await fill(output);
    await output.commit(provenance);
  } finally {
    output.abort();
  }
}

/** Writes one output from pieces of text: all of it, or nothing. */
export function writeFileWhole(
  path: string | undefined,
  pieces: Iterable<string>,
  provenance: Provenance,
  options: TargetOptions = {},
): Promise<void> {
  return whole(path, options, provenance, async (output) => {
    for (const piece of pieces) await output.write(piece);
  });
}

/** Writes a table as CSV, with its columns described in the metadata: all of it, or nothing. */
export function writeTableWhole(
  path: string | undefined,
  table: Table,
  provenance: Provenance,
  options: TargetOptions = {},
): Promise<void> {
  return whole(path, { ...options, schema: table.schema }, provenance, (output) => output.append(table));
}
