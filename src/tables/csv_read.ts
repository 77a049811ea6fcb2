import { Failure } from '../problems/failure.ts';
import { parseIsoDay } from '../units/days.ts';
import { type Column, NO_DAY } from './columns.ts';
import { lineOf, type RowBlock, RowCutter } from './csv_rows.ts';
import { NUMBER, unguarded } from './csv_text.ts';
import { decodeText } from './decode.ts';
import type { Dictionary } from './dictionary.ts';
import { type Schema, Table } from './table.ts';

const BATCH_ROWS = 8192;

function badCell(file: string, line: number, column: number, name: string, cell: string, rule: string): Failure {
  return new Failure(2, {
    file,
    line,
    column,
    message: `${name} "${cell}" ${rule}`,
    hint: 'Write the table anew with bilat, or mend the cell.',
  });
}

type CellReader = (cell: string, line: number, at: number) => void;

function cellReader(column: Column, name: string, file: string): CellReader {
  switch (column.kind) {
    case 'number':
      return (cell, line, at) => {
        const value = NUMBER.test(cell) ? Number(cell) : Number.NaN;
        if (cell !== '' && !Number.isFinite(value)) throw badCell(file, line, at, name, cell, 'is not a number');
        column.push(value);
      };
    case 'date': {
      let last = '';
      let day = NO_DAY;
      return (cell, line, at) => {
        if (cell !== last) {
          const read = cell === '' ? NO_DAY : parseIsoDay(cell);
          if (read === undefined) throw badCell(file, line, at, name, cell, 'is not a date written YYYY-MM-DD');
          last = cell;
          day = read;
        }
        column.pushDay(day);
      };
    }
    case 'text': {
      let last = '';
      let code = -1;
      return (cell) => {
        if (cell !== last) {
          last = cell;
          code = cell === '' ? -1 : column.dictionary.code(unguarded(cell));
        }
        column.pushCode(code);
      };
    }
    default:
      return (cell) => column.push(unguarded(cell));
  }
}

/**
 * Reads a table that bilat wrote, in batches. Columns are found by name; a missing one is a Failure, others are passed
 * over.
 * @param pieces the bytes of the file
 * @param command who asks, for the advice on a file that is a sheet
 */
export async function* readTable<S extends Schema>(
  schema: S,
  file: string,
  pieces: AsyncIterable<Uint8Array> | Iterable<Uint8Array>,
  dictionaries: { readonly [name: string]: Dictionary } = {},
  command = 'bilat derive',
): AsyncGenerator<Table<S>> {
  const cutter = new RowCutter(',');
  const wanted = schema.filter((spec) => !spec.internal);
  let places: number[] | undefined;
  let table = new Table(schema, dictionaries, BATCH_ROWS);
  let readers = wanted.map((spec) => cellReader(table.column(spec.name), spec.name, file));

  function* take(block: RowBlock): Generator<Table<S>> {
    for (let row = 0; row < block.rows.length; row++) {
      const cells = block.rows[row];
      const line = lineOf(block, row);
      if (places === undefined) {
        places = wanted.map((spec) => cells.indexOf(spec.name));
        const missing = wanted.filter((_, at) => places![at] < 0).map((spec) => spec.name);
        if (missing.length > 0) {
          throw new Failure(2, {
            file,
            line,
            message: `is not a table of bilat: it has no column ${missing.slice(0, 3).join(', ')}${missing.length > 3 ? ' …' : ''}`,
            hint: `Here goes what bilat ingest writes. For the sheet of a station: bilat ingest ${file} | ${command} -`,
          });
        }
        continue;
      }
      if (cells.length === 1 && cells[0] === '') continue;
      for (let at = 0; at < readers.length; at++) readers[at](cells[places[at]] ?? '', line, places[at] + 1);
      if (table.length === BATCH_ROWS) {
        yield table;
        table = new Table(schema, dictionaries, BATCH_ROWS);
        readers = wanted.map((spec) => cellReader(table.column(spec.name), spec.name, file));
      }
    }
  }

  for await (const text of decodeText(pieces, 'utf-8')) yield* take(cutter.push(text));
  const { block, openQuote } = cutter.end();
  yield* take(block);
  if (openQuote) {
    throw new Failure(2, { file, line: openQuote.line, message: 'a quote opens here and is never closed' });
  }
  if (places === undefined) throw new Failure(2, { file, message: 'is empty: not even a header' });
  if (table.length > 0) yield table;
}
