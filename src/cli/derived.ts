import { createReadStream } from 'node:fs';
import path from 'node:path';
import type { AthleteBook } from '../athletes/book.ts';
import { hashInputs } from '../files/hash.ts';
import type { Provenance } from '../files/metadata.ts';
import { Failure, troubleText } from '../problems/failure.ts';
import { fromFolder, fromTables, type NamedTable } from '../screening/observations.ts';
import { openSetup, type Setup } from '../screening/setup.ts';
import { folderSheets, shownPath } from '../screening/sources.ts';
import { deriveFrom } from '../screening/stages.ts';
import type { Results } from '../tables/schemas.ts';
import type { Io } from './io.ts';
import type { FolderOptions } from './options.ts';

/** Results as a command line asks for them, and where they come from. */
export interface Derived {
  readonly setup: Setup;
  readonly results: Results;
  readonly book: AthleteBook;
  /** absolute paths of what was read */
  readonly inputs: readonly string[];
  provenance(): Promise<Provenance>;
}

function namedTable(io: Io, base: string, name: string): NamedTable {
  if (name === '-') return { name: 'standard input', file: '-', open: () => io.stdin() };
  const full = path.resolve(io.cwd, name);
  return { name, file: shownPath(base, full), open: () => createReadStream(full, { highWaterMark: 65536 }) };
}

/** Works out results from the tables named, else from the folder. */
export async function deriveJob(
  io: Io,
  names: readonly string[],
  flags: FolderOptions,
  command: string,
): Promise<Derived> {
  const hasInputs = names.length > 0;
  const setup = await openSetup({ ...flags, cwd: io.cwd, names: flags.names ?? false, hasInputs });
  for (const warning of setup.warnings) io.err(`note: ${troubleText(warning)}\n`);
  let flow: ReturnType<typeof fromTables>;
  if (hasInputs)
    flow = fromTables(
      setup,
      names.map((name) => namedTable(io, setup.base, name)),
      command,
    );
  else {
    const { sheets, notes } = await folderSheets(setup.screening);
    for (const note of notes) io.err(`note: ${note}\n`);
    if (sheets.length === 0) {
      throw new Failure(2, {
        message: 'no sheet was found',
        hint: 'Put the sheets into sheets/ of the folder, or name a table of observations.',
      });
    }
    flow = await fromFolder(setup, sheets, BILAT_VERSION);
  }
  const { results, book } = await deriveFrom(setup, flow.observations, flow.athletes);
  for (const note of flow.notes) io.err(`note: ${note}\n`);
  const files = flow.inputs.filter((file) => file !== '-');
  return {
    setup,
    results,
    book,
    inputs: files.map((file) => path.resolve(setup.base, file)),
    provenance: async () => ({ version: BILAT_VERSION, command, inputs: await hashInputs(setup.base, files) }),
  };
}
