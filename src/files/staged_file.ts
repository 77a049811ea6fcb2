import { createHash } from 'node:crypto';
import { closeSync, fsync, fsyncSync, openSync } from 'node:fs';
import { csvBytes } from '../tables/csv_encode.ts';
import { csvHeader } from '../tables/csv_write.ts';
import type { Schema, Table } from '../tables/table.ts';
import { quietly, writing } from './system_errors.ts';
import { writeFully } from './write_fully.ts';

/** A file being written at a place where nobody reads it yet. Its errors name the path where it is to go. */
export class StagedFile {
  /** where it is to go */
  readonly target: string;
  /** where it is until then */
  readonly place: string;
  /** columns, if it is a table */
  readonly schema?: Schema;
  rows = 0;
  #fd: number | undefined;
  #bytes = 0;
  readonly #hash = createHash('sha256');

  constructor(place: string, target: string, schema?: Schema) {
    this.place = place;
    this.target = target;
    this.schema = schema;
    this.#fd = writing(target, () => openSync(place, 'wx'));
    if (schema) this.write(csvHeader(schema));
  }

  write(piece: string | Uint8Array): void {
    const bytes = typeof piece === 'string' ? Buffer.from(piece) : piece;
    writing(this.target, () => writeFully(this.#fd!, bytes, this.#bytes));
    this.#hash.update(bytes);
    this.#bytes += bytes.length;
  }

  /** Adds the rows of a table with this file's columns; the header is there already. */
  append(table: Table): void {
    for (const piece of csvBytes(table)) this.write(piece);
    this.rows += table.length;
  }

  /** Lets the disk take what is written so far while other work goes on: `finish` then waits for less. */
  flushEarly(): void {
    if (this.#fd !== undefined) fsync(this.#fd, () => {});
  }

  /** Brings everything to the disk and closes the file. Returns its SHA-256 in hexadecimal digits. */
  finish(): string {
    writing(this.target, () => fsyncSync(this.#fd!));
    this.close();
    return this.#hash.digest('hex');
  }

  /** Closes the file, whatever its state. */
  close(): void {
    if (this.#fd !== undefined) quietly(() => closeSync(this.#fd!));
    this.#fd = undefined;
  }
}
