import { statSync } from 'node:fs';
import { basename, dirname } from 'node:path';
import { Failure } from '../problems/failure.ts';
import { csvHeader, csvLines } from '../tables/csv_write.ts';
import type { Schema, Table } from '../tables/table.ts';
import { requireFolder } from './folders.ts';
import type { Provenance } from './metadata.ts';
import { checkTargets, type TargetOptions } from './ownership.ts';
import { openPipe, type Pipe } from './pipe.ts';
import { openStaging } from './staging.ts';
import { writeStdout } from './stdout.ts';
import { writing } from './system_errors.ts';

export interface OutputOptions extends TargetOptions {
  /** the output is a table as CSV with these columns and starts with its header */
  readonly schema?: Schema;
}

/** One output of a command: a file outside the folder's own, standard output, a pipe or a device. */
export interface Output {
  write(text: string): Promise<void>;
  /** Adds the rows of a table with the output's columns. */
  append(table: Table): Promise<void>;
  /** Ends it; only now a file is there. */
  commit(provenance: Provenance): Promise<void>;
  /** Leaves nothing behind, unless it has been committed; what went into a pipe is gone. */
  abort(): void;
}

const STANDARD_OUTPUT = new Set(['/dev/stdout', '/dev/fd/1', '/proc/self/fd/1']);
const STDOUT: Pipe = { write: writeStdout, close: () => {} };
const OPEN_FILE = /^\/(dev\/stderr|dev\/fd\/\d+|proc\/self\/fd\/\d+)$/;

/** Pipes, character devices and files that are open already take text as it comes and cannot be replaced. */
function takesText(path: string): boolean {
  if (OPEN_FILE.test(path)) return true;
  const stat = writing(path, () => statSync(path, { throwIfNoEntry: false }));
  return stat !== undefined && (stat.isFIFO() || stat.isCharacterDevice());
}

async function streamOutput({ write, close }: Pipe, schema: Schema | undefined): Promise<Output> {
  if (schema) await write(csvHeader(schema));
  return {
    write,
    async append(table) {
      for (const piece of csvLines(table)) await write(piece);
    },
    commit: async () => close(),
    abort: close,
  };
}

async function openFile(path: string, { schema, ...options }: OutputOptions): Promise<Output> {
  if (/[\\/]$/.test(path)) throw new Failure(2, { file: path, message: 'This names a folder', hint: 'Name a file.' });
  requireFolder(dirname(path));
  checkTargets([path], options);
  const name = basename(path);
  const staging = await openStaging(dirname(path), { ...options, prefix: `.bilat-${name}` });
  try {
    const file = staging.file(name, schema);
    return {
      write: async (text) => file.write(text),
      append: async (table) => file.append(table),
      commit: async (provenance) => staging.commit(provenance),
      abort: () => staging.abort(),
    };
  } catch (error) {
    staging.abort();
    throw error;
  }
}

/**
 * Begins one output of a command.
 *
 * @param path where it is to go; nothing for standard output
 * @throws Failure 2 if a file may not be put there, Failure 3 if the system refuses
 */
export async function openOutput(path?: string, options: OutputOptions = {}): Promise<Output> {
  if (path === undefined || STANDARD_OUTPUT.has(path)) return streamOutput(STDOUT, options.schema);
  return takesText(path) ? streamOutput(await openPipe(path), options.schema) : openFile(path, options);
}
