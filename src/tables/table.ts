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
    const columns = schema.map((spec): [string, Column] => {
      if (spec.kind === 'text') return [spec.name, new TextColumn(dictionaries[spec.name], capacity)];
      if (spec.kind === 'string') return [spec.name, new StringColumn()];
      if (spec.kind === 'number') return [spec.name, new NumberColumn(capacity)];
      return [spec.name, new DateColumn(capacity)];
    });
    // fromEntries takes any name for a property of its own, __proto__ too.
    this.columns = Object.fromEntries(columns) as ColumnsOf<S>;
    this.#first = columns[0][1];
  }

  /** Number of rows. */
  get length(): number {
    return this.#first.length;
  }

  /** Adds rows in which everything is unknown; a fast writer then sets what it knows by index. */
  extend(rows: number): void {
    for (const { name } of this.schema) this.column(name).extend(rows);
  }

  /** Drops the rows from `length` on. */
  truncate(length: number): void {
    for (const { name } of this.schema) this.column(name).length = length;
  }

  column(name: string): Column {
    return (this.columns as unknown as Record<string, Column>)[name];
  }

  row(index: number): RowOf<S> {
    const shown = this.schema.filter((spec) => !spec.internal);
    return Object.fromEntries(shown.map(({ name }) => [name, this.column(name).get(index)])) as RowOf<S>;
  }

  /** Appends one row of a table with the same columns. */
  appendRow(other: Table<S>, row: number): void {
    for (const { name } of this.schema) {
      (this.column(name) as { push(value: string | number | null): void }).push(other.column(name).get(row));
    }
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
