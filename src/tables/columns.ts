import { isoDay, parseIsoDay } from '../units/days.ts';
import { Dictionary } from './dictionary.ts';

const FIRST_CAPACITY = 64;
const DOUBLING_BELOW = 100_000;

/** A day that is not known; real days count from 1970-01-01. */
export const NO_DAY = -2147483648;

/** Small columns double; large ones grow by a quarter, since what they hold too much is held for every column. */
function grown(capacity: number, needed: number): number {
  const next = capacity < DOUBLING_BELOW ? capacity * 2 : Math.ceil(capacity * 1.25);
  return Math.max(next, needed, FIRST_CAPACITY);
}

/** Text as Int32 codes into a dictionary; -1 is unknown. */
export class TextColumn {
  readonly kind = 'text';
  length = 0;
  codes: Int32Array;
  readonly dictionary: Dictionary;

  constructor(dictionary: Dictionary = new Dictionary(), capacity = FIRST_CAPACITY) {
    this.dictionary = dictionary;
    this.codes = new Int32Array(capacity);
  }

  /** Room for more rows, all unknown. */
  extend(rows: number): void {
    const end = this.length + rows;
    if (end > this.codes.length) {
      const next = new Int32Array(grown(this.codes.length, end));
      next.set(this.codes);
      this.codes = next;
    }
    this.codes.fill(-1, this.length, end);
    this.length = end;
  }

  pushCode(code: number): void {
    if (this.length === this.codes.length) this.extend(1);
    else this.length++;
    this.codes[this.length - 1] = code;
  }

  push(text: string | null): void {
    this.pushCode(text === null || text === '' ? -1 : this.dictionary.code(text));
  }

  get(row: number): string | null {
    const code = this.codes[row];
    return code < 0 ? null : this.dictionary.texts[code];
  }
}

/** Text that hardly repeats (raw cells, messages): kept as plain strings; '' is unknown. */
export class StringColumn {
  readonly kind = 'string';
  values: string[] = [];

  get length(): number {
    return this.values.length;
  }

  set length(rows: number) {
    this.values.length = rows;
  }

  /** Room for more rows, all unknown. */
  extend(rows: number): void {
    for (let row = 0; row < rows; row++) this.values.push('');
  }

  push(text: string | null): void {
    this.values.push(text ?? '');
  }

  get(row: number): string | null {
    const text = this.values[row];
    return text === '' ? null : text;
  }
}

/** Numbers as Float64; NaN is unknown and never leaves the table. */
export class NumberColumn {
  readonly kind = 'number';
  length = 0;
  values: Float64Array;

  constructor(capacity = FIRST_CAPACITY) {
    this.values = new Float64Array(capacity);
  }

  /** Room for more rows, all unknown. */
  extend(rows: number): void {
    const end = this.length + rows;
    if (end > this.values.length) {
      const next = new Float64Array(grown(this.values.length, end));
      next.set(this.values);
      this.values = next;
    }
    this.values.fill(Number.NaN, this.length, end);
    this.length = end;
  }

  push(value: number | null): void {
    if (this.length === this.values.length) this.extend(1);
    else this.length++;
    this.values[this.length - 1] = value ?? Number.NaN;
  }

  get(row: number): number | null {
    const value = this.values[row];
    return Number.isNaN(value) ? null : value;
  }
}

/** Days as Int32, counted from 1970-01-01; NO_DAY is unknown. */
export class DateColumn {
  readonly kind = 'date';
  length = 0;
  days: Int32Array;

  constructor(capacity = FIRST_CAPACITY) {
    this.days = new Int32Array(capacity);
  }

  /** Room for more rows, all unknown. */
  extend(rows: number): void {
    const end = this.length + rows;
    if (end > this.days.length) {
      const next = new Int32Array(grown(this.days.length, end));
      next.set(this.days);
      this.days = next;
    }
    this.days.fill(NO_DAY, this.length, end);
    this.length = end;
  }

  pushDay(day: number): void {
    if (this.length === this.days.length) this.extend(1);
    else this.length++;
    this.days[this.length - 1] = day;
  }

  push(text: string | null): void {
    this.pushDay(text === null ? NO_DAY : (parseIsoDay(text) ?? NO_DAY));
  }

  get(row: number): string | null {
    const day = this.days[row];
    return day === NO_DAY ? null : isoDay(day);
  }
}

export type Column = TextColumn | StringColumn | NumberColumn | DateColumn;
