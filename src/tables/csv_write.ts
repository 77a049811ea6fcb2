import { csvBytes } from './csv_encode.ts';
import { csvCell } from './csv_text.ts';
import type { Schema, Table } from './table.ts';

/** Header line of a table's CSV form; internal columns are left out. */
export function csvHeader(schema: Schema): string {
  return `${schema
    .filter((column) => !column.internal)
    .map((column) => csvCell(column.name))
    .join(',')}\n`;
}

/** CSV lines of the rows of a table, in pieces of some 64 KB. */
export function* csvLines(table: Table): Generator<string> {
  for (const bytes of csvBytes(table)) yield Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).toString('utf8');
}

/** A whole table as CSV text, header included. */
export function* csvText(table: Table): Generator<string> {
  yield csvHeader(table.schema);
  yield* csvLines(table);
}
