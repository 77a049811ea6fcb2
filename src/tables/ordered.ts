import type { NumberColumn } from './columns.ts';
import type { Schema, Table } from './table.ts';

/** A row of one of several tables with the same columns. */
export interface RowAt<S extends Schema> {
  readonly table: Table<S>;
  readonly row: number;
}

/**
 * The rows of several tables in the order of some of their number columns, unknown first; rows that are equal there keep
 * their order.
 */
export function inOrder<S extends Schema>(tables: readonly Table<S>[], by: readonly string[]): RowAt<S>[] {
  const keyed = tables.flatMap((table) => {
    const columns = by.map((name) => table.column(name) as NumberColumn);
    return Array.from({ length: table.length }, (_, row) => ({
      table,
      row,
      keys: columns.map((column) => column.get(row) ?? Number.NEGATIVE_INFINITY),
    }));
  });
  return keyed.sort((a, b) => {
    const at = a.keys.findIndex((key, index) => key !== b.keys[index]);
    return at < 0 ? 0 : a.keys[at] < b.keys[at] ? -1 : 1;
  });
}
