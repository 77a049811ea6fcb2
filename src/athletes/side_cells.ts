import type { Trouble } from '../problems/failure.ts';
import { didYouMean } from '../protocol/nearest.ts';
import type { SideRow } from '../tables/side_file.ts';
import { foldDashes } from '../units/characters.ts';
import { readDate } from '../units/dates.ts';
import { readNumber } from '../units/numbers.ts';
import { readSide } from '../units/sides.ts';
import { isMissingMark } from '../units/statuses.ts';
import { isTooLong, type NameWords, shownCell } from './shown_cells.ts';

/** The side that was hurt or is held back; both: the two of them. */
export type HurtSide = 'left' | 'right' | 'both';

export const UNKNOWN = 'It is taken as unknown.';

const NOT_SAID = new Set(['n/a', 'na', 'none', 'unknown', '?']);
/** Whether a cell says nothing: blank, a dash, n/a, none, unknown. */
export function isNotSaid(cell: string): boolean {
  return !isTooLong(cell) && (cell === '' || isMissingMark(cell) || NOT_SAID.has(cell.toLowerCase()));
}

/** The side that a cell names; null: not said; undefined: cannot be read. */
export function hurtSide(cell: string): HurtSide | null | undefined {
  if (isNotSaid(cell)) return null;
  // A side with a question mark is a question.
  const side = isTooLong(cell) || cell.includes('?') ? undefined : readSide(cell);
  return side === 'left' || side === 'right' || side === 'both' ? side : undefined;
}

/** Names and fixed words as hands write them: `Not cleared` and `not-cleared` are not_cleared. */
export function foldWord(text: string): string {
  return foldDashes(text)
    .toLowerCase()
    .replace(/[\s_-]+/g, '_');
}

/** `dates:` is for sheets: a list shows the order of its dates itself, or has them written in full. */
const ORDER_OPEN = 'The dates of the column do not show whether day or month comes first; dates: is for sheets alone. ';

function mayBe(readings: readonly string[] | undefined): string {
  return readings !== undefined && readings.length > 1 ? `It may be ${readings.join(' or ')}. ` : '';
}

/** The cells of one row of a side file. What cannot be read is null, and a warning says where, what, and what follows. */
export class SideCells {
  readonly line: number;
  readonly #row: SideRow;
  readonly #file: string;
  readonly #warnings: Trouble[];
  readonly #names: NameWords;

  /**
   * @param warnings what is said of the row is added here
   * @param names which no message repeats
   */
  constructor(row: SideRow, file: string, warnings: Trouble[], names: NameWords) {
    this.line = row.line;
    this.#row = row;
    this.#file = file;
    this.#warnings = warnings;
    this.#names = names;
  }

  /** The cell as written, trimmed; '' where there is none. */
  text(column: string): string {
    return this.#row.get(column);
  }

  /** Says that a cell breaks a rule; `rule` follows the name of the column and its value. */
  warn(column: string, rule: string, hint: string): null {
    const place = { file: this.#file, line: this.line, column: this.#row.place(column) };
    const cell = this.text(column);
    const message = `${column}${isNotSaid(cell) ? '' : shownCell(cell, column, this.#names)} ${rule}`;
    this.#warnings.push({ ...place, message, hint });
    return null;
  }

  /** Days since 1970-01-01; null: not said, or not read. */
  day(column: string, hint: string): number | null {
    const cell = this.text(column);
    if (isNotSaid(cell)) return null;
    const date = readDate(cell, this.#row.order(column));
    if (date.kind === 'day') return date.day;
    const rule = 'is not a date that reads one way: write YYYY-MM-DD';
    const isOpen = date.code === 'date_ambiguous' && this.#row.order(column) === undefined;
    return this.warn(column, rule, `${mayBe(date.readings)}${isOpen ? ORDER_OPEN : ''}${hint}`);
  }

  /** As `day`, of a column in which every row needs a date. */
  neededDay(column: string, hint: string): number | null {
    if (isNotSaid(this.text(column))) return this.warn(column, 'is not given: write YYYY-MM-DD', hint);
    return this.day(column, hint);
  }

  side(column: string): HurtSide | null {
    const side = hurtSide(this.text(column));
    return side === undefined ? this.warn(column, 'is none of left, right, both', UNKNOWN) : side;
  }

  /**
   * A number without a unit; null: not said, or not read.
   * @param rule what is said of a cell that is none
   * @param isOne tells which numbers the column can hold
   */
  number(column: string, rule: string, isOne: (value: number) => boolean): number | null {
    const cell = this.text(column);
    if (isNotSaid(cell)) return null;
    const reading = readNumber(cell, undefined);
    if (reading.kind === 'problem') return this.warn(column, rule, `${mayBe(reading.readings)}${UNKNOWN}`);
    return reading.unitText === '' && isOne(reading.value) ? reading.value : this.warn(column, rule, UNKNOWN);
  }

  /** A whole number from 0 on; null: not said, or not read. */
  count(column: string): number | null {
    return this.number(column, 'is not a whole number from 0 on', (value) => Number.isSafeInteger(value) && value >= 0);
  }

  /** A name that the protocol gives, however its spaces and capitals are written; null: not said, or not known. */
  name(column: string, known: Iterable<string>, rule: string): string | null {
    const cell = this.text(column);
    if (isNotSaid(cell)) return null;
    const names = [...known];
    const found = wordOf(cell, names);
    return found ?? this.warn(column, rule, `${didYouMean(isTooLong(cell) ? '' : foldWord(cell), names)} ${UNKNOWN}`);
  }
}

/** The one of some fixed words that a cell holds; undefined: none of them. */
export function wordOf<Word extends string>(cell: string, words: readonly Word[]): Word | undefined {
  if (isTooLong(cell)) return undefined;
  const key = foldWord(cell);
  return words.find((word) => foldWord(word) === key);
}
