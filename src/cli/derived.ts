import { createReadStream } from 'node:fs';
import path from 'node:path';
import type { AthleteBook, Athletes } from '../athletes/book.ts';
import { hashInputs } from '../files/hash.ts';
import type { Provenance } from '../files/metadata.ts';
import { Failure } from '../problems/failure.ts';
import { fromFolder, fromSheets, fromTables, type NamedTable } from '../screening/observations.ts';
import { openSetup, type Setup } from '../screening/setup.ts';
import { folderSheets, shownPath } from '../screening/sources.ts';
import { deriveFrom } from '../screening/stages.ts';
import { NO_DAY } from '../tables/columns.ts';
import type { Observations, Rejects, Results } from '../tables/schemas.ts';
import { tellWarnings } from './audience/coach_ends.ts';
import type { AudienceOptions } from './audience.ts';
import type { Io } from './io.ts';
import type { FolderOptions } from './options.ts';

/** Results as a command line asks for them, and where they come from. */
export interface Derived {
  readonly setup: Setup;
  readonly results: Results;
  readonly book: AthleteBook;
  readonly athletes: Athletes;
  /** days since 1970-01-01 of the last reading; null: there is none */
  readonly lastDay: number | null;
  /** what could not be read; undefined where tables were read and no sheets */
  readonly rejects: Rejects | undefined;
  /** absolute paths of what was read */
  readonly inputs: readonly string[];
  provenance(): Promise<Provenance>;
}

function namedTable(io: Io, base: string, name: string): NamedTable {
  if (name === '-') return { name: 'standard input', file: '-', open: () => io.stdin() };
  const full = path.resolve(io.cwd, name);
  return { name, file: shownPath(base, full), open: () => createReadStream(full, { highWaterMark: 65536 }) };
}

/** What a command wants of the observations on their way. */
export interface Tap {
  /** told of each batch */
  readonly observations?: (batch: Observations, setup: Setup) => void;
  /** read the sheets, be the tables of the last run up to date or not: rejects are wanted too */
  readonly anew?: boolean;
  /** a folder without sheets is no fault */
  readonly mayBeEmpty?: boolean;
}

/** Works out results from the tables named, else from the folder. */
export async function deriveJob(
  io: Io,
  names: readonly string[],
  flags: FolderOptions & Partial<AudienceOptions>,
  command: string,
  tap: Tap = {},
): Promise<Derived> {
  const hasInputs = names.length > 0;
  const setup = await openSetup({ ...flags, cwd: io.cwd, names: flags.names ?? false, hasInputs });
  tellWarnings(io, setup, flags.audience);
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
    if (sheets.length === 0 && !tap.mayBeEmpty) {
      throw new Failure(2, {
        message: 'no sheet was found',
        hint: 'Put the sheets into sheets/ of the folder, or name a table of observations.',
      });
    }
    flow =
      sheets.length === 0
        ? fromTables(setup, [], command)
        : tap.anew
          ? fromSheets(setup, sheets, undefined)
          : await fromFolder(setup, sheets, BILAT_VERSION);
  }
  let lastDay = NO_DAY;
  async function* tapped(): AsyncGenerator<Observations> {
    for await (const batch of flow.observations) {
      const { days } = batch.columns.date;
      for (let row = 0; row < batch.length; row++) lastDay = Math.max(lastDay, days[row]);
      tap.observations?.(batch, setup);
      yield batch;
    }
  }
  const { results, book } = await deriveFrom(setup, tapped(), flow.athletes);
  for (const note of flow.notes) io.err(`note: ${note}\n`);
  const files = flow.inputs.filter((file) => file !== '-');
  return {
    setup,
    results,
    book,
    athletes: flow.athletes(),
    lastDay: lastDay === NO_DAY ? null : lastDay,
    rejects: flow.rejects,
    inputs: files.map((file) => path.resolve(setup.base, file)),
    provenance: async () => ({ version: BILAT_VERSION, command, inputs: await hashInputs(setup.base, files) }),
  };
}
