import { type Column, DateColumn, NumberColumn, StringColumn, TextColumn } from './columns.ts';
import type { Dictionary } from './dictionary.ts';

export interface ColumnSpec {
  readonly name: string;
  /** text: few distinct values, coded; string: plain text; number; date: day. */
  readonly kind: 'text' | 'string' | 'number' | 'date';
  /** What the column holds, in a short sentence; goes into the metadata. */
  readonly title: string;
  /** Kept in memory for later stages, never written. */
  readonly internal?: true;
}

export type Schema = readonly ColumnSpec[];

export type ColumnOf<K extends ColumnSpec['kind']> = K extends 'text'
  ? TextColumn
  : K extends 'string'
    ? StringColumn
    : K extends 'number'
      ? NumberColumn
      : DateColumn;

export type ColumnsOf<S extends Schema> = { readonly [C in S[number] as C['name']]: ColumnOf<C['kind']> };

type ValueOf<K extends ColumnSpec['kind']> = K extends 'number' ? number : string;

export type RowOf<S extends Schema> = { -readonly [C in S[number] as C['name']]: ValueOf<C['kind']> | null };

/** A columnar table. Writers push one value to every column, in any order, a row at a time. */
export class Table<S extends Schema = Schema> {
  readonly schema: S;
  readonly columns: ColumnsOf<S>;
  readonly #first: Column;

  /**
   * @param dictionaries dictionaries to share between tables, by column name
   * @param capacity rows to make room for at once
   */
  constructor(schema: S, dictionaries: { readonly [name: string]: Dictionary } = {}, capacity?: number) {
    this.schema = schema;
    const columns: Record<string, Column> = Object.create(null);
    for (const spec of schema) {
      if (spec.kind === 'text') columns[spec.name] = new TextColumn(dictionaries[spec.name], capacity);
      else if (spec.kind === 'string') columns[spec.name] = new StringColumn();
      else if (spec.kind === 'number') columns[spec.name] = new NumberColumn(capacity);
      else columns[spec.name] = new DateColumn(capacity);
    }
    this.columns = columns as ColumnsOf<S>;
    this.#first = columns[schema[0].name];
  }

  /** Number of rows. */
  get length(): number {
    return this.#first.length;
  }

  column(name: string): Column {
    return (this.columns as unknown as Record<string, Column>)[name];
  }

  row(index: number): RowOf<S> {
    const row: Record<string, unknown> = {};
    for (const { name, internal } of this.schema) if (!internal) row[name] = this.column(name).get(index);
    return row as RowOf<S>;
  }

  /** Appends the rows of a table with the same columns. */
  append(other: Table<S>): void {
    for (const { name } of this.schema) {
      const from = other.column(name);
      const to = this.column(name) as { push(value: string | number | null): void };
      for (let row = 0; row < other.length; row++) to.push(from.get(row));
    }
  }

  /** Rows as objects, for renderers and library users; unknown is null, dates are ISO texts. */
  *rows(): Generator<RowOf<S>> {
    for (let index = 0; index < this.length; index++) yield this.row(index);
  }
}
