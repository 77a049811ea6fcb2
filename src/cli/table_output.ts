import path from 'node:path';
import type { Provenance } from '../files/metadata.ts';
import { type Output, openOutput } from '../files/output.ts';
import type { Schema, Table } from '../tables/table.ts';
import type { Io } from './io.ts';
import type { OutputOptions } from './options.ts';
import { chosenFormat, type Renderer, renderer } from './render/formats.ts';
import { printableLines } from './render/printable.ts';

/** The main table of a command on its way to a file or to standard output. */
export interface TableOutput {
  rows(table: Table): Promise<void>;
  /** Ends it; a file is there only now. */
  end(provenance: Provenance): Promise<void>;
  /** Leaves nothing behind unless ended. */
  abort(): void;
}

/** Opens the output that -o and --format ask for. */
export async function openTable(
  io: Io,
  schema: Schema,
  options: OutputOptions,
  inputs: readonly string[],
): Promise<TableOutput> {
  const format = chosenFormat(options.format, options.output, io.isTerminal);
  const render = renderer(format, io.width);
  if (options.output === undefined || options.output === '-') return toStdout(io, schema, render);
  const target = path.resolve(io.cwd, options.output);
  const settings = { force: options.force, inputs, ...(format === 'csv' && { schema }) };
  const output = await openOutput(target, settings);
  return format === 'csv' ? asTable(output) : asText(output, schema, render);
}

async function toStdout(io: Io, schema: Schema, render: Renderer): Promise<TableOutput> {
  const write = async (piece: string): Promise<void> => io.out(io.isTerminal ? printableLines(piece) : piece);
  await write(render.begin(schema));
  return {
    async rows(table) {
      for (const piece of render.rows(table)) await write(piece);
    },
    async end() {
      await write(render.end());
    },
    abort() {},
  };
}

function asTable(output: Output): TableOutput {
  return {
    rows: (table) => output.append(table),
    end: (provenance) => output.commit(provenance),
    abort: () => output.abort(),
  };
}

async function asText(output: Output, schema: Schema, render: Renderer): Promise<TableOutput> {
  await output.write(render.begin(schema));
  return {
    async rows(table) {
      for (const piece of render.rows(table)) await output.write(piece);
    },
    async end(provenance) {
      await output.write(render.end());
      await output.commit(provenance);
    },
    abort: () => output.abort(),
  };
}
