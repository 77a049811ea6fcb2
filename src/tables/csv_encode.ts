import { isoDay } from '../units/days.ts';
import { type Column, NO_DAY } from './columns.ts';
import { csvCell, numberText } from './csv_text.ts';
import type { Dictionary } from './dictionary.ts';
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
const REMEMBERED = 4;
/** No double is longer in ECMAScript's form, sign, comma and line feed included. */
const LONGEST_NUMBER = 40;
const SHORT = 24;

const encoded = new WeakMap<Dictionary, Buffer[]>();
const encodedDays = new Map<number, Uint8Array>();

function encodedTexts(dictionary: Dictionary): readonly Uint8Array[] {
  let cells = encoded.get(dictionary);
  if (cells === undefined) {
    cells = [];
    encoded.set(dictionary, cells);
  }
  for (let code = cells.length; code < dictionary.size; code++) cells.push(Buffer.from(csvCell(dictionary.texts[code])));
  return cells;
}

/** A column as the loop below needs it. */
type Source =
  | { readonly kind: 'text'; readonly codes: Int32Array; readonly cells: readonly Uint8Array[] }
  | { readonly kind: 'string'; readonly values: readonly string[] }
  | { readonly kind: 'number'; readonly values: Float64Array }
  | { readonly kind: 'date'; readonly days: Int32Array; readonly cells: Map<number, Uint8Array> };

function sourceOf(column: Column): Source {
  switch (column.kind) {
    case 'text':
      return { kind: 'text', codes: column.codes, cells: encodedTexts(column.dictionary) };
    case 'string':
      return { kind: 'string', values: column.values };
    case 'number':
      return { kind: 'number', values: column.values };
    case 'date':
      return { kind: 'date', days: column.days, cells: encodedDays };
  }
}

function encodedDay(day: number): Uint8Array {
  let cell = encodedDays.get(day);
  if (cell === undefined) {
    cell = Buffer.from(day === NO_DAY ? '' : isoDay(day));
    encodedDays.set(day, cell);
  }
  return cell;
}

/** Whether a text is digits, letters and points: such a cell needs neither quotes nor a guard. */
function isEasyText(text: string): boolean {
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    const isEasy = (code >= 48 && code <= 57) || code === 46 || (code >= 65 && code <= 90) || (code >= 97 && code <= 122);
    if (!isEasy) return false;
  }
  return true;
}

/** Texts of the numbers written last: a difference is a gap with a sign, a direction a deficit with one. */
class NumberMemory {
  readonly #absolutes = new Float64Array(REMEMBERED);
  readonly #texts: string[] = new Array(REMEMBERED).fill('');
  #oldest = 0;

  text(absolute: number): string {
    for (let at = 0; at < REMEMBERED; at++) if (this.#absolutes[at] === absolute) return this.#texts[at];
    const text = numberText(absolute);
    this.#absolutes[this.#oldest] = absolute;
    this.#texts[this.#oldest] = text;
    this.#oldest = (this.#oldest + 1) % REMEMBERED;
    return text;
  }
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

function larger(bytes: Buffer<ArrayBuffer>, used: number, needed: number): Buffer<ArrayBuffer> {
  const next = Buffer.allocUnsafe(Math.max(bytes.length * 2, used + needed));
  bytes.copy(next, 0, 0, used);
  return next;
}

/**
 * Bytes of rows, written in place: a table of ten million rows is hundreds of megabytes of short cells, and joining them
 * as strings costs several times what working them out does. Hence one loop over plain arrays with its state in locals.
 */
class RowEncoder {
  bytes = Buffer.allocUnsafe(PIECE_BYTES * 2);
  used = 0;
  readonly #sources: readonly Source[];
  readonly #memory = new NumberMemory();

  constructor(sources: readonly Source[]) {
    this.#sources = sources;
  }

  row(row: number): void {
    const sources = this.#sources;
    let { bytes } = this;
    let at = this.used;
    for (let column = 0; column < sources.length; column++) {
      const source = sources[column];
      // Room for a number with the comma before it and the line feed behind; longer cells ask for themselves.
      if (at + LONGEST_NUMBER > bytes.length) bytes = larger(bytes, at, LONGEST_NUMBER);
      if (column > 0) bytes[at++] = COMMA;
      if (source.kind === 'number') {
        const value = source.values[row];
        if (value !== value) continue;
        const absolute = value < 0 ? -value : value;
        const scaled = Math.round(absolute * DECIMALS);
        if (value < 0) bytes[at++] = MINUS;
        // A decimal of 15 digits at most that gives the same double is the shortest one that does.
        if (absolute < LARGEST_EASY && scaled / DECIMALS === absolute) at = writeThousandths(bytes, at, scaled | 0);
        else if (absolute < LARGEST_WHOLE && Math.floor(absolute) === absolute) at = writeWhole(bytes, at, absolute | 0);
        else {
          const text = this.#memory.text(absolute);
          for (let from = 0; from < text.length; from++) bytes[at++] = text.charCodeAt(from);
        }
        continue;
      }
      if (source.kind === 'string') {
        const text = source.values[row];
        if (text.length < SHORT && isEasyText(text)) {
          for (let from = 0; from < text.length; from++) bytes[at++] = text.charCodeAt(from);
        } else {
          const cell = csvCell(text);
          const needed = cell.length * 3 + LONGEST_NUMBER;
          if (at + needed > bytes.length) bytes = larger(bytes, at, needed);
          at += bytes.write(cell, at);
        }
        continue;
      }
      let cell: Uint8Array;
      if (source.kind === 'date') cell = encodedDay(source.days[row]);
      else {
        const code = source.codes[row];
        if (code < 0) continue;
        cell = source.cells[code];
      }
      const needed = cell.length + LONGEST_NUMBER;
      if (at + needed > bytes.length) bytes = larger(bytes, at, needed);
      for (let from = 0; from < cell.length; from++) bytes[at++] = cell[from];
    }
    bytes[at++] = LINE_FEED;
    this.bytes = bytes;
    this.used = at;
  }
}

/** CSV rows of a table as UTF-8, in pieces of some 256 KB that end with a row; a piece holds until the next is asked for. */
export function* csvBytes(table: Table): Generator<Uint8Array> {
  const sources = table.schema.filter((spec) => !spec.internal).map((spec) => sourceOf(table.column(spec.name)));
  const encoder = new RowEncoder(sources);
  for (let row = 0; row < table.length; row++) {
    encoder.row(row);
    if (encoder.used >= PIECE_BYTES) {
      yield encoder.bytes.subarray(0, encoder.used);
      encoder.used = 0;
    }
  }
  if (encoder.used > 0) yield encoder.bytes.subarray(0, encoder.used);
}
