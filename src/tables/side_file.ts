import { Failure, type Trouble } from '../problems/failure.ts';
import { type DateOrder, dateEvidence } from '../units/dates.ts';
import { cutRows, type Delimiter } from './csv_rows.ts';
import { columnsText, likelyHeadings } from './side_headings.ts';

/** A side file (roster, injuries, corrections …) with the meaning of headings that are not the contract's own. */
export interface SideFileSpec {
  /** its key in screening.yaml: roster, injuries … */
  readonly key?: string;
  readonly file: string;
  /** heading, trimmed and case folded → column name or 'ignore' */
  readonly columns: ReadonlyMap<string, string>;
}

export interface SideRow {
  /** physical line */
  readonly line: number;
  /** trimmed cell of a column of the contract; '' where there is none */
  get(column: string): string;
  /** where a column stands, from 1; 0 where there is none */
  place(column: string): number;
  /** order of day and month that the dates of a whole column show, if they agree */
  order(column: string): DateOrder | undefined;
}

export interface SideRows {
  readonly rows: readonly SideRow[];
  /** headings that nobody asked for */
  readonly ignoredHeadings: readonly string[];
  /** columns that no heading names → a heading that nobody asked for and that may be it */
  readonly likely: ReadonlyMap<string, string>;
  /** physical lines with a cell beyond the last heading: such a row may have slipped by a column */
  readonly slipped: readonly number[];
  readonly has: (column: string) => boolean;
}

/** Says which columns of a side file nobody asked for and what they may be, and which rows may have slipped. */
export function ignoredNote({ key, file }: SideFileSpec, { ignoredHeadings, likely, slipped }: SideRows): Trouble[] {
  const troubles: Trouble[] = slipped.map((line) => ({
    file,
    line,
    message: 'has a cell beyond the last heading, so that cells may stand under wrong headings',
    hint: 'Look at the row; a comma inside a text wants quotes around the text.',
  }));
  if (ignoredHeadings.length === 0) return troubles;
  const names = ignoredHeadings.map((heading) => `"${heading}"`).join(', ');
  const message = `${ignoredHeadings.length === 1 ? 'column' : 'columns'} ${names} not used`;
  const hint = likely.size === 0 ? undefined : `If that is meant: ${lineFor(key, file, likely)}`;
  return [{ file, message, ...(hint && { hint }) }, ...troubles];
}

/** What screening.yaml has to say for the headings to be taken. */
function lineFor(key: string | undefined, file: string, likely: ReadonlyMap<string, string>): string {
  return `in screening.yaml, ${key === undefined ? '' : `${key}: `}{file: ${file}, ${columnsText(likely)}}`;
}

function shownOrder(cells: readonly string[]): DateOrder | undefined {
  const shown = new Set(cells.map(dateEvidence).filter((order) => order !== undefined));
  return shown.size === 1 ? [...shown][0] : undefined;
}

function delimiterOf(header: string): Delimiter {
  const counts = ([',', ';', '\t'] as const).map((mark) => ({ mark, count: header.split(mark).length }));
  return counts.reduce((best, next) => (next.count > best.count ? next : best)).mark;
}

/**
 * Reads a side file whole. Its headings are the contract's column names, or are mapped to them by `columns:`.
 * @throws Failure 2 if a needed column is missing, two headings claim one column, or a quote is not closed
 */
export function readSideFile(
  text: string,
  spec: SideFileSpec,
  needed: readonly string[],
  optional: readonly string[],
): SideRows {
  const { file } = spec;
  const header = /[^\s][^\r\n]*/.exec(text)?.[0] ?? '';
  const { rows, lines, openQuote } = cutRows(text, delimiterOf(header));
  if (openQuote) {
    throw new Failure(2, {
      file,
      line: openQuote.line,
      message: 'a quote opens here and is never closed',
      hint: 'Close it, or take the quote out.',
    });
  }
  const first = rows.findIndex((cells) => cells.some((cell) => cell.trim() !== ''));
  if (first < 0) throw new Failure(2, { file, message: 'is empty: not even a header' });
  const known = new Set([...needed, ...optional]);
  const places = new Map<string, number>();
  const ignoredHeadings: string[] = [];
  const troubles: Trouble[] = [];
  for (const [at, cell] of rows[first].entries()) {
    const heading = cell.trim();
    const key = heading.toLowerCase();
    const column = spec.columns.get(key) ?? (known.has(key) ? key : undefined);
    if (column === undefined || column === 'ignore') {
      if (heading !== '' && column === undefined) ignoredHeadings.push(heading);
    } else if (places.has(column)) {
      troubles.push({
        file,
        line: lines[first],
        column: at + 1,
        message: `heading "${heading}" is a second column for ${column}`,
        hint: 'Take one of them out, or set it to ignore under columns:.',
      });
    } else places.set(column, at);
  }
  const absent = [...known].filter((column) => !places.has(column));
  const likely = likelyHeadings(ignoredHeadings, absent);
  for (const column of needed) {
    if (places.has(column)) continue;
    const near = likely.get(column);
    const example = likely.size > 0 ? likely : new Map([[column, 'its heading']]);
    troubles.push({
      file,
      line: lines[first],
      message: `has no column ${column}.${near === undefined ? '' : ` Is it "${near}"?`}`,
      hint: `Say what its headings are: ${lineFor(spec.key, file, example)}`,
    });
  }
  if (troubles.length > 0) throw new Failure(2, troubles);
  const found: SideRow[] = [];
  const slipped: number[] = [];
  const orders = new Map<string, DateOrder | undefined>();
  const orderOf = (column: string): DateOrder | undefined => {
    if (!orders.has(column)) orders.set(column, shownOrder(found.map((row) => row.get(column))));
    return orders.get(column);
  };
  for (let at = first + 1; at < rows.length; at++) {
    const cells = rows[at];
    if (cells.every((cell) => cell.trim() === '')) continue;
    if (cells.slice(rows[first].length).some((cell) => cell.trim() !== '')) slipped.push(lines[at]);
    found.push({
      line: lines[at],
      get: (column) => {
        const place = places.get(column);
        return place === undefined ? '' : (cells[place] ?? '').trim();
      },
      place: (column) => (places.get(column) ?? -1) + 1,
      order: orderOf,
    });
  }
  return { rows: found, ignoredHeadings, likely, slipped, has: (column) => places.has(column) };
}
