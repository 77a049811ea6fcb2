import { csvCell } from './csv_text.ts';

const WORD = 4;

/**
 * Cells of a CSV file as bytes, each with the comma behind it, all in one array and padded to words of four bytes: so
 * they are copied a word at a time, and many thousand cells cost no object each.
 */
export class PackedCells {
  words = new Int32Array(64);
  /** first word of each cell */
  readonly starts: number[] = [];
  /** bytes of each cell, comma included */
  readonly lengths: number[] = [];
  #used = 0;

  get size(): number {
    return this.starts.length;
  }

  /** Adds a cell with this text; its index is the size before. */
  add(text: string): void {
    this.addBytes(Buffer.from(`${csvCell(text)},`));
  }

  /** Adds one or more cells that are written already, each with its comma. */
  addBytes(bytes: Uint8Array): void {
    const end = this.#used + Math.ceil(bytes.length / WORD);
    if (end > this.words.length) {
      const larger = new Int32Array(Math.max(this.words.length * 2, end));
      larger.set(this.words);
      this.words = larger;
    }
    this.starts.push(this.#used);
    this.lengths.push(bytes.length);
    // Words are written with the lowest byte first on every machine, whatever its own order is.
    for (const [at, byte] of bytes.entries()) this.words[this.#used + (at >> 2)] |= byte << ((at & 3) * 8);
    this.#used = end;
  }
}
