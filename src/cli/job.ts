import { hashInputs } from '../files/hash.ts';
import type { Provenance } from '../files/metadata.ts';
import { Failure } from '../problems/failure.ts';
import { inputsOf } from '../screening/run.ts';
import { openSetup, type Setup } from '../screening/setup.ts';
import { folderSheets, namedSheets } from '../screening/sources.ts';
import type { SheetSource } from '../sheets/ingest.ts';
import { tellWarnings } from './audience/coach_ends.ts';
import type { AudienceOptions } from './audience.ts';
import type { Io } from './io.ts';
import type { FolderOptions } from './options.ts';

/** What a command on sheets works with. */
export interface Job {
  readonly setup: Setup;
  readonly sheets: readonly SheetSource[];
  /** relative to the base */
  readonly inputs: readonly string[];
  provenance(): Promise<Provenance>;
}

/** Corrections of these sheets alone: those of sheets that nobody asked for are not missed. */
function correctionsOf({ corrections }: Setup, sheets: readonly SheetSource[]): Setup['corrections'] {
  const files = new Set(sheets.map((sheet) => sheet.file));
  return new Map([...corrections].filter(([file]) => files.has(file)));
}

/** Opens the folder, or the protocol alone, and the sheets: those that are named, else those of the folder. */
export async function openJob(
  io: Io,
  names: readonly string[],
  flags: FolderOptions & Partial<AudienceOptions>,
  command: string,
): Promise<Job> {
  const hasInputs = names.length > 0;
  const whole = await openSetup({ ...flags, cwd: io.cwd, names: flags.names ?? false, hasInputs });
  tellWarnings(io, whole, flags.audience);
  const ofFolder = whole.hasFolder ? await folderSheets(whole.screening) : { sheets: [], notes: [] };
  if (!hasInputs) {
    for (const note of ofFolder.notes) io.err(`note: ${note}\n`);
    if (ofFolder.sheets.length === 0) {
      throw new Failure(2, {
        message: 'no sheet was found',
        hint: 'Name the sheets, or put them into sheets/ of the folder.',
      });
    }
  }
  const entries = new Map(ofFolder.sheets.map((sheet) => [sheet.file, sheet.entry]));
  const sheets = hasInputs ? await namedSheets(names, whole.base, io.cwd, io.stdin, entries) : ofFolder.sheets;
  const setup = hasInputs ? { ...whole, corrections: correctionsOf(whole, sheets) } : whole;
  const inputs = inputsOf(setup, sheets);
  return {
    setup,
    sheets,
    inputs,
    provenance: async () => ({ version: BILAT_VERSION, command, inputs: await hashInputs(setup.base, inputs) }),
  };
}
