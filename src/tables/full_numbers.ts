const COMMA = 44;
const WORD = 4;
const REMEMBERED = 4;
/** No double is longer in ECMAScript's form, comma included. */
const LONGEST_TEXT = 28;

/**
 * Numbers that take all their digits to write, in the order in which they will be asked for. They are printed many at
 * once by JSON.stringify, which writes finite numbers as String does (ECMA-262, SerializeJSONProperty): a list takes half
 * the time, and String would leave each text behind in long-lived memory.
 */
export class FullNumbers {
  readonly #values: number[] = [];
  /** for each number asked for, its place among the values */
  readonly #places: number[] = [];
  readonly #starts: number[] = [];
  #bytes = Buffer.alloc(0);
  #view = new DataView(this.#bytes.buffer, 0, 0);
  #asked = 0;

  /** Adds a number that is finite and not negative; one of those added last is printed once for both. */
  add(value: number): void {
    const values = this.#values;
    let place = values.length - 1;
    const oldest = Math.max(values.length - REMEMBERED, 0);
    // A difference is a gap with a sign, a direction a deficit with one.
    while (place >= oldest && values[place] !== value) place--;
    if (place < oldest) place = values.push(value) - 1;
    this.#places.push(place);
  }

  /** Prints what was added. */
  print(): void {
    this.#asked = 0;
    if (this.#values.length === 0) return;
    const needed = this.#values.length * LONGEST_TEXT + WORD;
    if (needed > this.#bytes.length) {
      this.#bytes = Buffer.allocUnsafeSlow(needed);
      this.#view = new DataView(this.#bytes.buffer);
    }
    const bytes = this.#bytes;
    const length = bytes.write(JSON.stringify(this.#values), 'latin1');
    bytes[length - 1] = COMMA;
    this.#starts.push(1);
    for (let at = 1; at < length; at++) if (bytes[at] === COMMA) this.#starts.push(at + 1);
  }

  /** Writes the next number with a comma behind it, and returns where it ends; up to three bytes more are overwritten. */
  writeNext(into: DataView, start: number): number {
    const place = this.#places[this.#asked++];
    const from = this.#starts[place];
    const length = this.#starts[place + 1] - from;
    for (let at = 0; at < length; at += WORD) into.setInt32(start + at, this.#view.getInt32(from + at, true), true);
    return start + length;
  }

  clear(): void {
    this.#values.length = 0;
    this.#places.length = 0;
    this.#starts.length = 0;
  }
}
