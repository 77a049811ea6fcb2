import { createReadStream } from 'node:fs';
import path from 'node:path';
import { AthleteGatherer, type Athletes, athletesSchema } from '../athletes/book.ts';
import { isFresh } from '../files/freshness.ts';
import { hashInputs } from '../files/hash.ts';
import { Failure } from '../problems/failure.ts';
import type { SheetSource } from '../sheets/ingest.ts';
import { observationDictionaries } from '../sheets/sheet_tables.ts';
import { readTable } from '../tables/csv_read.ts';
import { OBSERVATIONS, type Observations, REJECTS, type Rejects } from '../tables/schemas.ts';
import { Table } from '../tables/table.ts';
import { Notes } from './notes.ts';
import { inputsOf } from './run.ts';
import type { Setup } from './setup.ts';
import { startIngest, unreadSheets } from './stages.ts';

/** Observations on their way to derive, and what is known of their athletes once the last has passed. */
export interface ObservationFlow {
  readonly observations: AsyncIterable<Observations>;
  athletes(): Athletes;
  readonly notes: Notes;
  /** files they come from, relative to the base */
  readonly inputs: readonly string[];
  /** what could not be read, once the last has passed; undefined where tables were read and no sheets */
  readonly rejects?: Rejects;
}

/** A named table of observations; bytes of standard input for -. */
export interface NamedTable {
  /** as the user typed it */
  readonly name: string;
  readonly file: string;
  open(): AsyncIterable<Uint8Array>;
}

async function* readable(pieces: AsyncIterable<Uint8Array>, name: string): AsyncGenerator<Uint8Array> {
  try {
    yield* pieces;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'ENOENT')
      throw new Failure(2, { file: name, message: 'there is no such file', hint: 'Check the path.' });
    if (code === 'EISDIR') {
      throw new Failure(2, {
        file: name,
        message: 'is a folder, not a table',
        hint: 'Name the file, or the folder with --folder.',
      });
    }
    throw error;
  }
}

/** Observations from tables that bilat wrote, for a command; the roster of the setup says who the athletes are. */
export function fromTables(setup: Setup, tables: readonly NamedTable[], command: string): ObservationFlow {
  const gatherer = new AthleteGatherer(setup.roster);
  const dictionaries = observationDictionaries(setup.protocol);
  const known = new Set<string>();
  async function* observations(): AsyncGenerator<Observations> {
    for (const { name, open } of tables) {
      for await (const batch of readTable(OBSERVATIONS, name, readable(open(), name), dictionaries, command)) {
        const { athlete_id, season, team } = batch.columns;
        for (let row = 0; row < batch.length; row++) {
          const key = `${athlete_id.codes[row]} ${season.values[row]} ${team.codes[row]}`;
          if (known.has(key)) continue;
          known.add(key);
          for (const one of team.get(row)?.split(';') ?? [null]) {
            gatherer.seen(athlete_id.get(row) ?? '', season.values[row], one, null);
          }
        }
        yield batch;
      }
    }
  }
  return {
    observations: observations(),
    athletes: () => gatherer.table(setup.protocol),
    notes: new Notes(),
    inputs: [...setup.inputs, ...tables.map((table) => table.file)],
  };
}

/** @param why the sheets are read although there are tables of a run; undefined: that needs no word */
export function fromSheets(setup: Setup, sheets: readonly SheetSource[], why: string | undefined): ObservationFlow {
  const ingestion = startIngest(setup, sheets);
  if (why !== undefined) ingestion.notes.add(why);
  const rejects: Rejects = new Table(REJECTS);
  async function* observations(): AsyncGenerator<Observations> {
    let cells = 0;
    for await (const batch of ingestion.batches) {
      for (let row = 0; row < batch.rejects.length; row++) cells += batch.rejects.columns.cells.values[row];
      for (const sentence of unreadSheets(batch.rejects)) ingestion.notes.add(sentence);
      rejects.append(batch.rejects);
      yield batch.observations;
    }
    if (cells > 0) {
      const unread = cells === 1 ? '1 cell' : `${cells} cells`;
      ingestion.notes.add(`${unread} of the sheets could not be read: bilat ingest --rejects FILE says which and why`);
    }
  }
  return {
    observations: observations(),
    athletes: ingestion.athletes,
    notes: ingestion.notes,
    inputs: inputsOf(setup, sheets),
    rejects,
  };
}

/** Team and sex as the run that wrote the observations knew them, from sheets without a roster too. */
async function readAthletes(setup: Setup, file: string): Promise<Athletes> {
  const schema = athletesSchema(setup.protocol);
  const athletes: Athletes = new Table(schema);
  for await (const batch of readTable(schema, file, createReadStream(file))) athletes.append(batch);
  return athletes;
}

/**
 * Observations of a folder: those of the last run if every input is still what it was, else the sheets are read anew.
 * @param version of this bilat; tables of another are not used
 */
export async function fromFolder(
  setup: Setup,
  sheets: readonly SheetSource[],
  version: string,
): Promise<ObservationFlow> {
  const file = path.join(setup.base, setup.screening.out, 'observations.csv');
  const inputs = inputsOf(setup, sheets);
  const provenance = { version, inputs: await hashInputs(setup.base, inputs) };
  const known = file.replace(/observations\.csv$/, 'athletes.csv');
  const fresh = (await isFresh(file, provenance)) && (await isFresh(known, provenance));
  if (!fresh) {
    const shown = `${setup.screening.out}/observations.csv`;
    return fromSheets(setup, sheets, `${shown} is not there or not up to date: the sheets are read anew`);
  }
  const athletes = await readAthletes(setup, known);
  const own = { name: file, file: '', open: () => createReadStream(file, { highWaterMark: 65536 }) };
  const flow = fromTables(setup, [own], 'bilat derive');
  return { ...flow, athletes: () => athletes, inputs };
}
