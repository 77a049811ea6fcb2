import { closest, distance } from 'fastest-levenshtein';
import { Failure, type Trouble } from '../problems/failure.ts';
import { cutRows, type Delimiter } from './csv_rows.ts';

/** A side file (roster, injuries, corrections …) with the meaning of headings that are not the contract's own. */
export interface SideFileSpec {
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
}

export interface SideRows {
  readonly rows: readonly SideRow[];
  /** headings that nobody asked for */
  readonly ignoredHeadings: readonly string[];
  readonly has: (column: string) => boolean;
}

/** Says which columns of a side file nobody asked for. */
export function ignoredNote(file: string, { ignoredHeadings }: SideRows): Trouble[] {
  if (ignoredHeadings.length === 0) return [];
  const names = ignoredHeadings.map((heading) => `"${heading}"`).join(', ');
  return [{ file, message: `${ignoredHeadings.length === 1 ? 'column' : 'columns'} ${names} not used` }];
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
  for (const column of needed) {
    if (places.has(column)) continue;
    const near =
      ignoredHeadings.length > 0
        ? closest(
            column,
            ignoredHeadings.map((h) => h.toLowerCase()),
          )
        : '';
    const guess = near !== '' && distance(column, near) <= 4 ? ` Is it "${near}"?` : '';
    troubles.push({
      file,
      line: lines[first],
      message: `has no column ${column}.${guess}`,
      hint: `Name the heading in screening.yaml, for example: {file: ${file}, columns: {"${near || 'its heading'}": ${column}}}`,
    });
  }
  if (troubles.length > 0) throw new Failure(2, troubles);
  const found: SideRow[] = [];
  for (let at = first + 1; at < rows.length; at++) {
    const cells = rows[at];
    if (cells.every((cell) => cell.trim() === '')) continue;
    found.push({
      line: lines[at],
      get: (column) => {
        const place = places.get(column);
        return place === undefined ? '' : (cells[place] ?? '').trim();
      },
      place: (column) => (places.get(column) ?? -1) + 1,
    });
  }
  return { rows: found, ignoredHeadings, has: (column) => places.has(column) };
}
