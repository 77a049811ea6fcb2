import Papa from 'papaparse';
import { PlainRowCutter } from './plain_rows.ts';

export type Delimiter = ',' | ';' | '\t';

/** Rows cut from one stretch of text, with the physical line on which each begins. */
export interface RowBlock {
  readonly rows: readonly string[][];
  /** physical line of rows[0], from 1 */
  readonly firstLine: number;
  /** line of each row where cells hold line breaks; absent: one line a row */
  readonly lines?: readonly number[];
}

/** The last row of a text whose quote is never closed: everything after the quote has become one cell. */
export interface OpenQuote {
  readonly line: number;
  readonly cells: readonly string[];
}

const EMPTY: RowBlock = { rows: [], firstLine: 1 };

function lineBreaks(text: string): number {
  let count = 0;
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) count++;
  return count;
}

/**
 * Cuts text that arrives in pieces into rows (RFC 4180). Line ends of all kinds count as one line break, and are unified
 * first: the parser below joins rows on mixed line ends without a word.
 */
export class RowCutter {
  readonly #parser: Papa.Parser;
  readonly #plain: PlainRowCutter;
  #carry = '';
  #pieces: string[] = [];
  #waiting = 0;
  /** characters to gather before the next try: doubled while a quoted cell is still open, so that long cells stay linear */
  #enough = 0;
  #line = 1;
  #heldReturn = false;

  constructor(delimiter: Delimiter) {
    this.#parser = new Papa.Parser({ delimiter, newline: '\n', quoteChar: '"' });
    this.#plain = new PlainRowCutter(delimiter);
  }

  /** Rows completed by this piece of text. */
  push(piece: string): RowBlock {
    let text = this.#heldReturn ? `\r${piece}` : piece;
    this.#heldReturn = text.endsWith('\r');
    if (this.#heldReturn) text = text.slice(0, -1);
    if (text.includes('\r')) text = text.replace(/\r\n?/g, '\n');
    if (this.#isPlain(text)) return this.#plainRows(text);
    this.#pieces.push(text);
    this.#waiting += text.length;
    if (this.#waiting < this.#enough) return EMPTY;
    const all = this.#gather();
    const parsed = this.#parser.parse(all, 0, true);
    const cursor: number = parsed.meta.cursor;
    this.#carry = all.slice(cursor);
    this.#enough = cursor === 0 ? all.length : 0;
    return this.#block(parsed.data, all, cursor);
  }

  /** Whether this piece ends a row, and neither it nor what waits holds a quote. */
  #isPlain(text: string): boolean {
    return this.#waiting === 0 && text.includes('\n') && !text.includes('"') && !this.#carry.includes('"');
  }

  #plainRows(text: string): RowBlock {
    const rows: string[][] = [];
    let start = 0;
    if (this.#carry !== '') {
      start = text.indexOf('\n') + 1;
      const first = this.#carry + text.slice(0, start);
      this.#plain.cut(first, 0, first.length, rows);
    }
    const end = text.lastIndexOf('\n') + 1;
    this.#plain.cut(text, start, end, rows);
    this.#carry = text.slice(end);
    this.#enough = 0;
    const firstLine = this.#line;
    this.#line += rows.length;
    return { rows, firstLine };
  }

  /** The rows that are left when the text is over, and the quote that was never closed if there is one. */
  end(): { block: RowBlock; openQuote?: OpenQuote } {
    if (this.#heldReturn) this.#pieces.push('\n');
    this.#heldReturn = false;
    const all = this.#gather();
    if (all === '') return { block: { rows: [], firstLine: this.#line } };
    const parsed = this.#parser.parse(all, 0, false);
    const rows: string[][] = parsed.data;
    // A final line break is the end of the last line, not one more empty row.
    if (all.endsWith('\n') && rows.length > 0 && rows.at(-1)!.length === 1 && rows.at(-1)![0] === '') rows.pop();
    const open = parsed.errors.some((error: Papa.ParseError) => error.code === 'MissingQuotes');
    const last = open ? rows.pop() : undefined;
    const block = this.#block(rows, all, all.length);
    if (last === undefined) return { block };
    const before = last.slice(0, -1).reduce((sum, cell) => sum + lineBreaks(cell), 0);
    return { block, openQuote: { line: this.#line + before, cells: last } };
  }

  #gather(): string {
    const all = this.#pieces.length === 1 && this.#carry === '' ? this.#pieces[0] : this.#carry + this.#pieces.join('');
    this.#pieces = [];
    this.#waiting = 0;
    this.#carry = '';
    return all;
  }

  #block(rows: string[][], text: string, upTo: number): RowBlock {
    const firstLine = this.#line;
    const quote = text.indexOf('"');
    if (quote < 0 || quote >= upTo) {
      this.#line += rows.length;
      return { rows, firstLine };
    }
    const lines: number[] = [];
    for (const row of rows) {
      lines.push(this.#line);
      this.#line += 1;
      for (const cell of row) if (cell.includes('\n')) this.#line += lineBreaks(cell);
    }
    return { rows, firstLine, lines };
  }
}

/** Physical line of a row of a block. */
export function lineOf(block: RowBlock, row: number): number {
  return block.lines ? block.lines[row] : block.firstLine + row;
}

/** All rows of a text that is small enough to hold. */
export function cutRows(
  text: string,
  delimiter: Delimiter,
): { rows: string[][]; lines: number[]; openQuote?: OpenQuote } {
  const cutter = new RowCutter(delimiter);
  const first = cutter.push(text);
  const { block, openQuote } = cutter.end();
  const rows = [...first.rows, ...block.rows];
  const lines = [...first.rows.map((_, row) => lineOf(first, row)), ...block.rows.map((_, row) => lineOf(block, row))];
  return openQuote ? { rows, lines, openQuote } : { rows, lines };
}
