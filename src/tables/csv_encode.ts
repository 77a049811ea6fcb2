import { isoDay } from '../units/days.ts';
import { type Column, type DateColumn, NO_DAY, type NumberColumn, type StringColumn, type TextColumn } from './columns.ts';
import { csvCell, numberText } from './csv_text.ts';
import type { Dictionary } from './dictionary.ts';
import type { Table } from './table.ts';

/** A piece is handed on when it holds this much; a row that is longer still goes out whole. */
const PIECE_BYTES = 65536;
const COMMA = 44;
const LINE_FEED = 10;
const ZERO = 48;
const POINT = 46;
const MINUS = 45;
/** Numbers with up to so many decimals and digits are written digit by digit. */
const DECIMALS = 1000;
const LARGEST_EASY = 1e12;
/** Numbers of a row whose text is remembered: a difference is a gap with a sign, a direction a deficit with one. */
const REMEMBERED = 4;

/**
 * Bytes of CSV rows, built without strings in between: a table of ten million rows is hundreds of megabytes of short
 * cells, and joining them as strings costs several times what computing them does.
 */
class RowWriter {
  bytes = Buffer.allocUnsafe(PIECE_BYTES * 2);
  at = 0;
  readonly #absolutes = new Float64Array(REMEMBERED);
  readonly #texts: string[] = new Array(REMEMBERED).fill('');
  #oldest = 0;

  room(needed: number): void {
    if (this.at + needed <= this.bytes.length) return;
    const larger = Buffer.allocUnsafe(Math.max(this.bytes.length * 2, this.at + needed));
    this.bytes.copy(larger, 0, 0, this.at);
    this.bytes = larger;
  }

  byte(value: number): void {
    this.bytes[this.at++] = value;
  }

  /** Bytes that are known beforehand. */
  known(cell: Uint8Array): void {
    this.room(cell.length + 1);
    const { bytes } = this;
    let { at } = this;
    for (let from = 0; from < cell.length; from++) bytes[at++] = cell[from];
    this.at = at;
  }

  /** A text that may hold anything. */
  text(text: string): void {
    this.room(text.length + 1);
    const { bytes } = this;
    let { at } = this;
    for (let from = 0; from < text.length; from++) {
      const code = text.charCodeAt(from);
      // Digits, letters, space and point need neither quotes nor a guard; anything else takes the careful way.
      const isEasy = (code >= 48 && code <= 57) || code === 46 || (code >= 65 && code <= 90) || (code >= 97 && code <= 122);
      if (!isEasy) {
        this.#careful(text);
        return;
      }
      bytes[at++] = code;
    }
    this.at = at;
  }

  #careful(text: string): void {
    const cell = csvCell(text);
    this.room(cell.length * 3 + 1);
    this.at += this.bytes.write(cell, this.at);
  }

  number(value: number): void {
    if (value !== value) return;
    this.room(32);
    const absolute = value < 0 ? -value : value;
    const scaled = Math.round(absolute * DECIMALS);
    // A decimal of 15 digits at most that gives the same double is the shortest one that does.
    if (absolute < LARGEST_EASY && scaled / DECIMALS === absolute) this.#easyNumber(value < 0, scaled);
    else this.#fullNumber(value, absolute);
  }

  #easyNumber(negative: boolean, scaled: number): void {
    if (negative && scaled !== 0) this.byte(MINUS);
    let whole = Math.floor(scaled / DECIMALS);
    const fraction = scaled - whole * DECIMALS;
    let digits = 1;
    for (let power = 10; power <= whole; power *= 10) digits++;
    for (let place = this.at + digits - 1; place >= this.at; place--) {
      const rest = Math.floor(whole / 10);
      this.bytes[place] = ZERO + (whole - rest * 10);
      whole = rest;
    }
    this.at += digits;
    if (fraction === 0) return;
    this.byte(POINT);
    this.byte(ZERO + Math.floor(fraction / 100));
    if (fraction % 100 === 0) return;
    this.byte(ZERO + (Math.floor(fraction / 10) % 10));
    if (fraction % 10 !== 0) this.byte(ZERO + (fraction % 10));
  }

  #fullNumber(value: number, absolute: number): void {
    let text = '';
    for (let memory = 0; memory < REMEMBERED; memory++) if (this.#absolutes[memory] === absolute) text = this.#texts[memory];
    if (text === '') {
      text = numberText(absolute);
      this.#absolutes[this.#oldest] = absolute;
      this.#texts[this.#oldest] = text;
      this.#oldest = (this.#oldest + 1) % REMEMBERED;
    }
    if (value < 0) this.byte(MINUS);
    const { bytes } = this;
    let { at } = this;
    for (let from = 0; from < text.length; from++) bytes[at++] = text.charCodeAt(from);
    this.at = at;
  }
}

const encoded = new WeakMap<Dictionary, Buffer[]>();

function encodedTexts(dictionary: Dictionary): readonly Uint8Array[] {
  let cells = encoded.get(dictionary);
  if (cells === undefined) {
    cells = [];
    encoded.set(dictionary, cells);
  }
  for (let code = cells.length; code < dictionary.size; code++) cells.push(Buffer.from(csvCell(dictionary.texts[code])));
  return cells;
}

function cellWriter(column: Column, writer: RowWriter): (row: number) => void {
  switch (column.kind) {
    case 'text': {
      const { codes, dictionary } = column as TextColumn;
      const cells = encodedTexts(dictionary);
      return (row) => {
        if (codes[row] >= 0) writer.known(cells[codes[row]]);
      };
    }
    case 'string': {
      const { values } = column as StringColumn;
      return (row) => writer.text(values[row]);
    }
    case 'number': {
      const { values } = column as NumberColumn;
      return (row) => writer.number(values[row]);
    }
    case 'date': {
      const { days } = column as DateColumn;
      let lastDay = NO_DAY;
      let cell: Uint8Array = new Uint8Array(0);
      return (row) => {
        if (days[row] !== lastDay) {
          lastDay = days[row];
          cell = Buffer.from(lastDay === NO_DAY ? '' : isoDay(lastDay));
        }
        writer.known(cell);
      };
    }
  }
}

/** CSV rows of a table as UTF-8, in pieces of some 64 KB that end with a row. A piece holds until the next is asked for. */
export function* csvBytes(table: Table): Generator<Uint8Array> {
  const writer = new RowWriter();
  const writers = table.schema
    .filter((spec) => !spec.internal)
    .map((spec) => cellWriter(table.column(spec.name), writer));
  for (let row = 0; row < table.length; row++) {
    for (let column = 0; column < writers.length; column++) {
      writer.room(1);
      if (column > 0) writer.byte(COMMA);
      writers[column](row);
    }
    writer.room(1);
    writer.byte(LINE_FEED);
    if (writer.at >= PIECE_BYTES) {
      yield writer.bytes.subarray(0, writer.at);
      writer.at = 0;
    }
  }
  if (writer.at > 0) yield writer.bytes.subarray(0, writer.at);
}
