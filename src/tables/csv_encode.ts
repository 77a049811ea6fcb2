import { isoDay } from '../units/days.ts';
import { type Column, type DateColumn, NO_DAY, type TextColumn } from './columns.ts';
import { csvCell } from './csv_text.ts';
import type { Dictionary } from './dictionary.ts';
import { FullNumbers } from './full_numbers.ts';
import { PackedCells } from './packed_cells.ts';
import type { Table } from './table.ts';

/** A piece is handed on when it holds this much; a row that is longer still goes out whole. */
const PIECE_BYTES = 262_144;
const COMMA = 44;
const LINE_FEED = 10;
const ZERO = 48;
const POINT = 46;
const MINUS = 45;
/** Numbers of three decimals that stay below 2^31 in thousandths, and whole numbers below it, are written by digits. */
const DECIMALS = 1000;
const LARGEST_EASY = 2e6;
const LARGEST_WHOLE = 2e9;
/** No double is longer in ECMAScript's form, sign and comma included; nor is what a packed cell writes past its end. */
const LONGEST_NUMBER = 40;
const SHORT = 24;
const SMALL_PIECE = 1024;
/** Rows whose long numbers are printed together. */
const BLOCK_ROWS = 256;

/** A stretch of the row as the loop below needs it: one column, or several that are the same in all rows. */
type Source =
  | {
      readonly kind: 'coded';
      readonly codes: Int32Array;
      readonly words: Int32Array;
      readonly starts: readonly number[];
      readonly lengths: readonly number[];
    }
  | { readonly kind: 'number'; readonly values: Float64Array }
  | { readonly kind: 'string'; readonly values: readonly string[] };

const packed = new WeakMap<Dictionary, PackedCells>();
const packedDays = new PackedCells();
const dayCodes = new Map<number, number>([[NO_DAY, -1]]);

function packedTexts({ dictionary }: TextColumn): PackedCells {
  let cells = packed.get(dictionary);
  if (cells === undefined) {
    cells = new PackedCells();
    packed.set(dictionary, cells);
  }
  while (cells.size < dictionary.size) cells.add(dictionary.texts[cells.size]);
  return cells;
}

function dayCode(day: number): number {
  let code = dayCodes.get(day);
  if (code === undefined) {
    code = packedDays.size;
    packedDays.add(isoDay(day));
    dayCodes.set(day, code);
  }
  return code;
}

/** Codes of days into their packed cells; neighbouring rows mostly share theirs. */
function codesOfDays({ days, length }: DateColumn): Int32Array {
  const codes = new Int32Array(length);
  for (let row = 0, last = NO_DAY, code = -1; row < length; row++) {
    if (days[row] !== last) {
      last = days[row];
      code = dayCode(last);
    }
    codes[row] = code;
  }
  return codes;
}

function coded(codes: Int32Array, { words, starts, lengths }: PackedCells): Source {
  return { kind: 'coded', codes, words, starts, lengths };
}

function sourceOf(column: Column): Source {
  switch (column.kind) {
    case 'text':
      return coded(column.codes, packedTexts(column));
    case 'date':
      return coded(codesOfDays(column), packedDays);
    case 'number':
      return { kind: 'number', values: column.values };
    case 'string':
      return { kind: 'string', values: column.values };
  }
}

function isConstant(source: Source, rows: number): boolean {
  if (source.kind === 'coded') {
    const { codes } = source;
    for (let row = 1; row < rows; row++) if (codes[row] !== codes[0]) return false;
    return true;
  }
  if (source.kind === 'number') {
    const { values } = source;
    for (let row = 1; row < rows; row++) if (!Object.is(values[row], values[0])) return false;
    return true;
  }
  return false;
}

/** The stretches of a row: in most batches file, team, purpose and the like say one thing, and are written in one go. */
function sourcesOf(table: Table): Source[] {
  const sources: Source[] = [];
  let constant: Source[] = [];
  const close = (): void => {
    if (constant.length > 0) {
      const encoder = new RowEncoder(constant);
      encoder.foresee(0, 1);
      encoder.row(0);
      const cells = new PackedCells();
      encoder.bytes[encoder.used - 1] = COMMA;
      cells.addBytes(encoder.bytes.subarray(0, encoder.used));
      sources.push(coded(new Int32Array(table.length), cells));
    }
    constant = [];
  };
  for (const { name, internal } of table.schema) {
    if (internal) continue;
    const source = sourceOf(table.column(name));
    if (isConstant(source, table.length)) constant.push(source);
    else {
      close();
      sources.push(source);
    }
  }
  close();
  return sources;
}

/** Whether a text is digits, letters and points: such a cell needs neither quotes nor a guard. */
function isEasyText(text: string): boolean {
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    const isEasy =
      (code >= 48 && code <= 57) || code === 46 || (code >= 65 && code <= 90) || (code >= 97 && code <= 122);
    if (!isEasy) return false;
  }
  return true;
}

/** Whether a number is a whole count of thousandths: a decimal of so few digits that gives the double is its shortest. */
function isThousandths(absolute: number): boolean {
  return absolute < LARGEST_EASY && Math.round(absolute * DECIMALS) / DECIMALS === absolute;
}

function isWhole(absolute: number): boolean {
  return absolute < LARGEST_WHOLE && Math.floor(absolute) === absolute;
}

/** Writes a whole number below 2^31 and returns where it ends. */
function writeWhole(bytes: Uint8Array, start: number, whole: number): number {
  let digits = 1;
  for (let rest = (whole / 10) | 0; rest > 0; rest = (rest / 10) | 0) digits++;
  let rest = whole;
  for (let place = start + digits - 1; place >= start; place--) {
    const tens = (rest / 10) | 0;
    bytes[place] = ZERO + (rest - tens * 10);
    rest = tens;
  }
  return start + digits;
}

/** Writes scaled / 1000, scaled whole and below 2^31, without trailing zeros, and returns where it ends. */
function writeThousandths(bytes: Uint8Array, start: number, scaled: number): number {
  const whole = (scaled / DECIMALS) | 0;
  const fraction = scaled - whole * DECIMALS;
  let at = writeWhole(bytes, start, whole);
  if (fraction === 0) return at;
  const tenths = (fraction / 100) | 0;
  const hundredths = ((fraction / 10) | 0) - tenths * 10;
  const thousandths = fraction - tenths * 100 - hundredths * 10;
  bytes[at++] = POINT;
  bytes[at++] = ZERO + tenths;
  if (hundredths === 0 && thousandths === 0) return at;
  bytes[at++] = ZERO + hundredths;
  if (thousandths > 0) bytes[at++] = ZERO + thousandths;
  return at;
}

/**
 * Bytes of rows, written in place: a table of ten million cells is hundreds of megabytes, and joining them as strings
 * costs several times what working them out does. Hence one loop over plain arrays with its state in locals.
 */
class RowEncoder {
  bytes: Buffer<ArrayBuffer>;
  used = 0;
  #view: DataView;
  readonly #sources: readonly Source[];
  readonly #numbers = new FullNumbers();

  constructor(sources: readonly Source[], capacity = SMALL_PIECE) {
    this.#sources = sources;
    this.bytes = Buffer.allocUnsafeSlow(capacity);
    this.#view = new DataView(this.bytes.buffer);
  }

  /** Makes room behind the bytes used. */
  #grow(used: number, needed: number): void {
    const larger = Buffer.allocUnsafeSlow(Math.max(this.bytes.length * 2, used + needed));
    this.bytes.copy(larger, 0, 0, used);
    this.bytes = larger;
    this.#view = new DataView(larger.buffer);
  }

  /** Prints the long numbers of the rows that come next. */
  foresee(from: number, end: number): void {
    const columns = this.#sources.flatMap((source) => (source.kind === 'number' ? [source.values] : []));
    this.#numbers.clear();
    for (let row = from; row < end; row++) {
      for (let column = 0; column < columns.length; column++) {
        const absolute = Math.abs(columns[column][row]);
        if (!Number.isFinite(absolute) || isThousandths(absolute) || isWhole(absolute)) continue;
        this.#numbers.add(absolute);
      }
    }
    this.#numbers.print();
  }

  /** Appends the next row that was foreseen. */
  row(row: number): void {
    const sources = this.#sources;
    let { bytes } = this;
    let view = this.#view;
    let at = this.used;
    for (let column = 0; column < sources.length; column++) {
      const source = sources[column];
      // Room for a number with its comma; longer cells ask for themselves.
      if (at + LONGEST_NUMBER > bytes.length) {
        this.#grow(at, LONGEST_NUMBER);
        ({ bytes } = this);
        view = this.#view;
      }
      if (source.kind === 'number') {
        const value = source.values[row];
        const absolute = Math.abs(value);
        const isKnown = Number.isFinite(value);
        if (isKnown && value < 0) bytes[at++] = MINUS;
        if (isThousandths(absolute)) at = writeThousandths(bytes, at, Math.round(absolute * DECIMALS) | 0);
        else if (isWhole(absolute)) at = writeWhole(bytes, at, absolute | 0);
        else if (isKnown) {
          at = this.#numbers.writeNext(view, at);
          continue;
        }
        bytes[at++] = COMMA;
      } else if (source.kind === 'string') {
        at = this.#string(at, source.values[row]);
        ({ bytes } = this);
        view = this.#view;
      } else {
        const code = source.codes[row];
        if (code < 0) {
          bytes[at++] = COMMA;
          continue;
        }
        const cellEnd = at + source.lengths[code];
        if (cellEnd + LONGEST_NUMBER > bytes.length) {
          this.#grow(at, cellEnd - at + LONGEST_NUMBER);
          ({ bytes } = this);
          view = this.#view;
        }
        // The last word may write past the end of the cell, where the next one begins.
        for (let word = source.starts[code]; at < cellEnd; at += 4, word++) view.setInt32(at, source.words[word], true);
        at = cellEnd;
      }
    }
    // Each cell has left a comma behind it.
    bytes[at - 1] = LINE_FEED;
    this.used = at;
  }

  #string(start: number, text: string): number {
    let at = start;
    if (text.length < SHORT && isEasyText(text)) {
      for (let from = 0; from < text.length; from++) this.bytes[at++] = text.charCodeAt(from);
    } else {
      const cell = csvCell(text);
      const needed = cell.length * 3 + LONGEST_NUMBER;
      if (at + needed > this.bytes.length) this.#grow(at, needed);
      at += this.bytes.write(cell, at);
    }
    this.bytes[at] = COMMA;
    return at + 1;
  }
}

/** CSV rows of a table as UTF-8, in pieces of some 256 KB that end with a row; a piece holds until the next is asked for. */
export function* csvBytes(table: Table): Generator<Uint8Array> {
  if (table.length === 0) return;
  const encoder = new RowEncoder(sourcesOf(table), PIECE_BYTES * 2);
  for (let row = 0; row < table.length; row++) {
    if (row % BLOCK_ROWS === 0) encoder.foresee(row, Math.min(row + BLOCK_ROWS, table.length));
    encoder.row(row);
    if (encoder.used >= PIECE_BYTES) {
      yield encoder.bytes.subarray(0, encoder.used);
      encoder.used = 0;
    }
  }
  if (encoder.used > 0) yield encoder.bytes.subarray(0, encoder.used);
}
