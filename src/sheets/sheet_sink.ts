import { Attempts } from './attempts.ts';
import type { Counts, IngestBatch } from './sheet_tables.ts';

/** Where the tables of one sheet write to: they share batch, counts and the numbering of attempts. */
export class SheetSink {
  readonly counts: Counts;
  readonly attempts = new Attempts();
  /** observations written into the batch so far */
  rows = 0;
  #line = 0;
  #column = 0;
  #batch: IngestBatch;
  #capacity: number;

  /** @param batch with as many empty observations as it is expected to take */
  constructor(counts: Counts, batch: IngestBatch) {
    this.counts = counts;
    this.#batch = batch;
    this.#capacity = batch.observations.length;
  }

  get batch(): IngestBatch {
    return this.#batch;
  }

  /** Notes where a reject stands: one that stands before the last is put into its place when the sheet is over. */
  place({ line = 0, column = 0 }: { readonly line?: number; readonly column?: number }): void {
    if (line < this.#line || (line === this.#line && column < this.#column)) this.counts.isSorted = false;
    this.#line = line;
    this.#column = column;
  }

  /** Place of the next observation in the batch. */
  nextRow(): number {
    if (this.rows === this.#capacity) {
      // Behind its end a column would take a value and lose it without a word.
      this.#batch.observations.extend(this.#capacity + 1);
      this.#capacity = this.#batch.observations.length;
    }
    return this.rows++;
  }

  /** The observations written so far leave; a new batch takes those to come. */
  exchange(batch: IngestBatch): IngestBatch['observations'] {
    const { observations } = this.#batch;
    observations.truncate(this.rows);
    this.#batch = batch;
    this.#capacity = batch.observations.length;
    this.rows = 0;
    return observations;
  }
}
