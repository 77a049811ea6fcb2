import { Failure, type Trouble } from '../problems/failure.ts';
import { type DateOrder, dateEvidence } from '../units/dates.ts';
import { foldKey } from '../units/keys.ts';
import { cutRows, type Delimiter } from './csv_rows.ts';
import { columnLines, isLikelyHeading, isNameHeading, likelyHeadings } from './side_headings.ts';

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
  /** headings as written → column, as `columns:` of screening.yaml settles them */
  readonly settled: ReadonlyMap<string, string>;
  /** physical lines above the headings that hold something */
  readonly aside: readonly number[];
  /** what stands under headings of names, cell by cell, and the cells of rows that may have slipped */
  readonly names: readonly string[];
  /** physical lines with a cell beyond the last heading: such a row may have slipped by a column */
  readonly slipped: readonly number[];
  readonly has: (column: string) => boolean;
}

/** Says what of a side file is left aside, which columns nobody asked for, and which rows may have slipped. */
export function ignoredNote(spec: SideFileSpec, sideRows: SideRows): Trouble[] {
  const { file, key } = spec;
  const { ignoredHeadings, likely, slipped, aside } = sideRows;
  const troubles: Trouble[] = [];
  if (aside.length > 0) {
    const lines = aside.length === 1 ? `line ${aside[0]}` : `lines ${aside[0]} to ${aside.at(-1)}`;
    const verb = aside.length === 1 ? 'stands' : 'stand';
    troubles.push({
      file,
      message: `${lines} ${verb} above the headings, and ${verb === 'stands' ? 'is' : 'are'} left aside`,
    });
  }
  if (ignoredHeadings.length > 0) {
    const names = ignoredHeadings.map((heading) => `"${heading}"`).join(', ');
    const message = `${ignoredHeadings.length === 1 ? 'column' : 'columns'} ${names} not used`;
    const paste = columnLines(key, file, new Map([...sideRows.settled, ...headingColumns(likely)]));
    troubles.push({ file, message, ...(likely.size > 0 && { hint: `If that is meant, ${whereTo(key)}:`, paste }) });
  }
  const hint = 'Look at the row; a comma inside a text wants quotes around the text.';
  const message = 'has a cell beyond the last heading, so that cells may stand under wrong headings';
  return [...troubles, ...slipped.map((line) => ({ file, line, message, hint }))];
}

/** Where the lines that settle headings go: a key that is there already must not be given twice. */
function whereTo(key: string | undefined): string {
  return `put into screening.yaml${key === undefined ? '' : `, in place of ${key}: if it is there`}`;
}

function headingColumns(likely: ReadonlyMap<string, string>): [string, string][] {
  return [...likely].map(([column, heading]) => [heading, column]);
}

function shownOrder(cells: readonly string[]): DateOrder | undefined {
  const shown = new Set(cells.map(dateEvidence).filter((order) => order !== undefined));
  return shown.size === 1 ? [...shown][0] : undefined;
}

const MARKS = [',', ';', '\t'] as const;
/** Lines that may stand above the headings and the headings themselves. */
const LOOKED_AT = 12;

function delimiterOf(text: string, knows: (heading: string) => boolean): Delimiter {
  const lines = text
    .slice(0, LOOKED_AT * 2000)
    .split(/\r\n?|\n/)
    .filter((line) => line.trim() !== '')
    .slice(0, LOOKED_AT);
  const counts = MARKS.map((mark) => {
    const cells = lines.map((line) => line.split(mark).map((cell) => cell.trim().replace(/^"|"$/g, '').trim()));
    const known = Math.max(0, ...cells.map((line) => line.filter(knows).length));
    return { mark, known, count: cells[0]?.length ?? 0, most: Math.max(0, ...cells.map(({ length }) => length)) };
  });
  return counts.reduce((best, next) =>
    (next.known - best.known || next.count - best.count || next.most - best.most) > 0 ? next : best,
  ).mark;
}

interface HeadingFinder {
  /** column that a heading stands for by its own name or by `columns:` */
  columnOf(heading: string): string | undefined;
  /** whether a cell is such a heading, or one that other programs write */
  knows(heading: string): boolean;
}

const filledOf = (cells: readonly string[]): number => cells.filter((cell) => cell.trim() !== '').length;

/**
 * Where the headings stand: in the first row that has all needed columns, else in the one with the most headings that
 * anybody knows. Rows above it are titles, and narrower than the table.
 * @returns place among the rows; -1 if all are blank
 */
function headingRow(rows: readonly string[][], needed: readonly string[], finder: HeadingFinder): number {
  const first = rows.findIndex((cells) => filledOf(cells) > 0);
  if (first < 0) return first;
  const places = [...rows.keys()].slice(first, first + LOOKED_AT * 2).filter((at) => filledOf(rows[at]) > 0);
  const looked = places.slice(0, LOOKED_AT);
  const whole = looked.find((at) => {
    const columns = new Set(rows[at].map((cell) => finder.columnOf(cell)));
    return needed.every((column) => columns.has(column));
  });
  if (whole !== undefined) return whole;
  let best = first;
  let most = rows[first].filter(finder.knows).length;
  let widest = filledOf(rows[first]);
  for (const at of looked.slice(1)) {
    const known = rows[at].filter(finder.knows).length;
    // A single word may be a cell of the table: the left side, a hand.
    if (known > most && known > 1 && filledOf(rows[at]) > widest) {
      best = at;
      most = known;
    }
    widest = Math.max(widest, filledOf(rows[at]));
  }
  return best;
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
  const known = new Set([...needed, ...optional]);
  const columnOf = (cell: string): string | undefined => {
    const key = cell.trim().toLowerCase();
    return spec.columns.get(key) ?? (known.has(key) ? key : undefined);
  };
  const knows = (cell: string): boolean => columnOf(cell) !== undefined || isLikelyHeading(foldKey(cell.slice(0, 80)));
  const { rows, lines, openQuote } = cutRows(text, delimiterOf(text, knows));
  if (openQuote) {
    throw new Failure(2, {
      file,
      line: openQuote.line,
      message: 'a quote opens here and is never closed',
      hint: 'Close it, or take the quote out.',
    });
  }
  const top = headingRow(rows, needed, { columnOf, knows });
  if (top < 0) throw new Failure(2, { file, message: 'is empty: not even a header' });
  const places = new Map<string, number>();
  const settled = new Map<string, string>();
  const ignoredHeadings: string[] = [];
  const troubles: Trouble[] = [];
  for (const [at, cell] of rows[top].entries()) {
    const heading = cell.trim();
    const column = columnOf(cell);
    if (column !== undefined && spec.columns.has(heading.toLowerCase())) settled.set(heading, column);
    if (column === undefined || column === 'ignore') {
      if (heading !== '' && column === undefined) ignoredHeadings.push(heading);
    } else if (places.has(column)) {
      troubles.push({
        file,
        line: lines[top],
        column: at + 1,
        message: `heading "${heading}" is a second column for ${column}`,
        hint: 'Take one of them out, or set it to ignore under columns:.',
      });
    } else places.set(column, at);
  }
  const absent = [...known].filter((column) => !places.has(column));
  const likely = likelyHeadings(ignoredHeadings, absent);
  const lacking = needed.filter((column) => !places.has(column));
  const isHeaded = rows[top].some(knows);
  for (const [at, column] of lacking.entries()) {
    const near = likely.get(column);
    const place = { file, line: lines[top] };
    if (!isHeaded) {
      if (at === 0) troubles.push({ ...place, ...withoutHeadings(rows, top, needed) });
      continue;
    }
    const example = new Map([
      ...settled,
      ...headingColumns(likely),
      ...(near === undefined ? [[`heading of ${column}`, column] as const] : []),
    ]);
    troubles.push({
      ...place,
      message: `has no column ${column}.${near === undefined ? '' : ` Is it "${near}"?`}`,
      // One block settles all of them.
      ...(at === 0 && {
        hint: `Say what its headings are: ${whereTo(spec.key)}:`,
        paste: columnLines(spec.key, file, example),
      }),
    });
  }
  if (troubles.length > 0) throw new Failure(2, troubles);
  const isName = rows[top].map((cell) => {
    const column = columnOf(cell);
    if (column === 'athlete_id') return false;
    return isNameHeading(foldKey(cell.slice(0, 80))) || (column !== undefined && isNameHeading(foldKey(column)));
  });
  const names: string[] = [];
  const found: SideRow[] = [];
  const slipped: number[] = [];
  const orders = new Map<string, DateOrder | undefined>();
  const orderOf = (column: string): DateOrder | undefined => {
    if (!orders.has(column)) orders.set(column, shownOrder(found.map((row) => row.get(column))));
    return orders.get(column);
  };
  for (let at = top + 1; at < rows.length; at++) {
    const cells = rows[at];
    if (cells.every((cell) => cell.trim() === '')) continue;
    const hasSlipped = cells.slice(rows[top].length).some((cell) => cell.trim() !== '');
    if (hasSlipped) slipped.push(lines[at]);
    for (const [place, cell] of cells.entries()) {
      if ((isName[place] || hasSlipped) && cell.trim() !== '') names.push(cell.trim());
    }
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
  const aside = [...rows.keys()].slice(0, top).filter((at) => filledOf(rows[at]) > 0);
  return {
    rows: found,
    ignoredHeadings,
    likely,
    settled,
    slipped,
    aside: aside.map((at) => lines[at]),
    names,
    has: (column) => places.has(column),
  };
}

/** What is said of a file in which no heading is found: perhaps titles stand above them, perhaps there are none. */
function withoutHeadings(
  rows: readonly string[][],
  top: number,
  needed: readonly string[],
): Pick<Trouble, 'message' | 'hint'> {
  const filled = rows[top].filter((cell) => cell.trim() !== '');
  const isTitle = rows.slice(top + 1, top + LOOKED_AT).some((cells) => filledOf(cells) > filled.length);
  // A line that is as wide as the others may be an athlete, who is not named.
  const reads = isTitle
    ? `reads ${filled.map((cell) => `"${cell.trim().slice(0, 60)}"`).join(', ')}`
    : 'is read for them';
  const message = `has no line of headings that bilat knows among the first ${LOOKED_AT}: this one ${reads}. Are there lines above the headings, or no headings at all?`;
  const hint = `Take lines above the headings out, or write a line of headings on top: ${needed.join(', ')} at least.`;
  return { message, hint };
}
