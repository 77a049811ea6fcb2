import { TextColumn } from '../../tables/columns.ts';
import type { Dictionary } from '../../tables/dictionary.ts';
import { type RowOf, type Schema, Table } from '../../tables/table.ts';

/** A table as one of these columns; undefined: it is another. */
export function tableOf<S extends Schema>(table: { readonly schema: Schema }, schema: S): Table<S> | undefined {
  return table.schema === schema ? (table as Table<S>) : undefined;
}

/** The rows of a table that are shown; the table itself if all are. */
export function keptRows<S extends Schema>(table: Table<S>, isShown: (row: number) => boolean): Table<S> {
  const rows = Array.from({ length: table.length }, (_, row) => row).filter(isShown);
  return rows.length === table.length ? table : copyOf(table, rows);
}

/** A copy of some rows that shares the dictionaries: codes stay what they are. */
export function copyOf<S extends Schema>(table: Table<S>, rows: readonly number[]): Table<S> {
  const dictionaries: Record<string, Dictionary> = {};
  for (const { name } of table.schema) {
    const column = table.column(name);
    if (column instanceof TextColumn) dictionaries[name] = column.dictionary;
  }
  const copy = new Table(table.schema, dictionaries);
  for (const row of rows) copy.appendRow(table, row);
  return copy;
}

/** A table of rewritten rows; undefined: the row is dropped; several: they take its place. It shares nothing with the table it was made of. */
export function rewritten<S extends Schema>(
  table: Table<S>,
  rewrite: (row: RowOf<S>) => RowOf<S> | readonly RowOf<S>[] | undefined,
): Table<S> {
  const made = new Table(table.schema);
  for (const row of wholeRows(table)) {
    for (const cells of [rewrite(row) ?? []].flat()) {
      const values = cells as Readonly<Record<string, string | number | null>>;
      for (const { name } of table.schema) {
        (made.column(name) as { push(value: string | number | null): void }).push(values[name]);
      }
    }
  }
  return made;
}

/** The rows of a table with their internal cells, which `Table.rows` leaves out. */
export function* wholeRows<S extends Schema>(table: Table<S>): Generator<RowOf<S>> {
  for (let row = 0; row < table.length; row++) yield wholeRow(table, row);
}

function wholeRow<S extends Schema>(table: Table<S>, row: number): RowOf<S> {
  return Object.fromEntries(table.schema.map(({ name }) => [name, table.column(name).get(row)])) as RowOf<S>;
}
