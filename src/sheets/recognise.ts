import { cutRows, type Delimiter, type OpenQuote } from '../tables/csv_rows.ts';
import type { DateOrder } from '../units/dates.ts';
import { foldKey } from '../units/keys.ts';
import type { RecogniseContext } from './column_plans.ts';
import { dateOrderOf, decimalEvidence, withPoints } from './evidence.ts';
import { DELIMITER_WORDS, partedOtherwise } from './glued_rows.ts';
import { isAthleteHeading, isAthleteRole, isFurtherHeadingLine } from './heading_lines.ts';
import { type HeadingWords, readHeading, readQualifier } from './headings.ts';
import type { ColumnPlan, Direction, SheetPlan, SheetProblem } from './plan.ts';
import { dateOrderOfHeading, roleOfHeading } from './roles.ts';
import { type BlockDraft, draftBlock } from './table_plans.ts';
import { titleFacts } from './title_lines.ts';
import { canTurn, turned } from './turned.ts';
import { partsInWords } from './two_parts.ts';
import { heldByLines, unitsSpokenOf } from './unit_lines.ts';

export type { RecogniseContext } from './column_plans.ts';

type Rows = readonly (readonly string[])[];

const DELIMITERS: readonly Delimiter[] = [',', ';', '\t'];
const MOST_TITLE_ROWS = 60;
/** Cells that a title line has beside its first where it stands above athletes across the columns. */
const MOST_TITLE_CELLS = 2;
const LONGEST_ROLE = 60;
const MOST_SHOWN = 4;
/** Heading lines of one table, at most. */
const MOST_HEADING_ROWS = 3;

const isBlank = (cell: string | undefined): boolean => cell === undefined || cell.trim() === '';

/**
 * Reads the rows from one place on as the heading lines of tables, one line or more.
 * @returns undefined if no table begins there
 */
export function recogniseBlock(rows: Rows, start: number, context: RecogniseContext): BlockDraft | undefined {
  if (!mayBeHeadings(rows[start], rows, start, context)) return undefined;
  const below = untilHeadings(rows, start + 1);
  let best = draftBlock(rows.slice(start, start + 1), start, below, context);
  for (let size = 2; size <= MOST_HEADING_ROWS && start + size <= rows.length; size++) {
    if (!isFurtherHeadingLine(rows[start + size - 1], rows.slice(start, start + size - 1), context.words)) break;
    best = draftBlock(rows.slice(start, start + size), start, below.slice(size - 1), context) ?? best;
  }
  return best;
}

/** Rows that name the athlete's column, of texts cut into rows: each place at which headings may stand asks for them. */
const headingRows = new WeakMap<Rows, readonly number[]>();

function headingRowsOf(rows: Rows): readonly number[] {
  const isHeading = (cell: string): boolean => cell.length < LONGEST_ROLE && !/\d/.test(cell) && isAthleteHeading(cell);
  const known = headingRows.get(rows) ?? rows.flatMap((row, at) => (row.some(isHeading) ? [at] : []));
  headingRows.set(rows, known);
  return known;
}

/** The rows from one on, up to the next that names the athlete's column again: what stands below it is another block. */
function untilHeadings(rows: Rows, from: number): Rows {
  return rows.slice(
    from,
    headingRowsOf(rows).find((at) => at >= from + MOST_HEADING_ROWS - 1),
  );
}

/** Whether it is worth while to look closer: a heading names the athlete, or its column has no heading at all. */
function mayBeHeadings(
  row: readonly string[],
  rows: Rows,
  start: number,
  { entry, isAcross }: RecogniseContext,
): boolean {
  if (isAcross || entry.columns.size > 0) return true;
  const lines = rows.slice(start, start + MOST_HEADING_ROWS);
  return lines.some((line) => line.some(isAthleteHeading)) || row.some(isBlank);
}

/** Finds the heading lines: the first place where an athlete column and something measured stand together. */
function findHeadings(rows: Rows, context: RecogniseContext): BlockDraft | undefined {
  for (let start = 0; start < Math.min(rows.length, MOST_TITLE_ROWS); start++) {
    if (rows[start].every(isBlank)) continue;
    const found = recogniseBlock(rows, start, context);
    if (found) return found;
  }
  return undefined;
}

interface Cut {
  readonly delimiter: Delimiter;
  readonly rows: Rows;
  readonly openQuote?: OpenQuote;
}

interface Attempt extends Cut {
  readonly direction: Direction;
  /** the rows in which an athlete's readings stand one beside the other */
  readonly turnedRows: Rows;
  readonly draft: BlockDraft;
}

function attempt(cut: Cut, context: RecogniseContext): Attempt | undefined {
  const { layout } = context.entry;
  const down = layout === 'across' ? undefined : findHeadings(cut.rows, context);
  if (down) return { ...cut, turnedRows: cut.rows, direction: 'down', draft: down };
  if (layout === 'down' || !canTurn(cut.rows)) return undefined;
  const turnedRows = turned(cut.rows);
  const across = findHeadings(turnedRows, { ...context, isAcross: true });
  if (across && !namesAthletes(across, turnedRows, context)) return undefined;
  return (
    across && {
      ...cut,
      turnedRows,
      direction: 'across',
      draft: withoutTitles(across, turnedRows, cut.delimiter, context.words),
    }
  );
}

/** Whether the line that should name the athletes does, and holds no further headings. */
function namesAthletes({ tables, headingRows }: BlockDraft, turnedRows: Rows, { words }: RecogniseContext): boolean {
  const below = turnedRows.slice(headingRows[1] + 1);
  return tables.every(({ from, columns }) => {
    const athletes = columns.filter((column) => column.kind === 'role' && isAthleteRole(column.role));
    const cells = below.flatMap((row) => athletes.map(({ at }) => (row[from + at] ?? '').trim()));
    const isHeading = (cell: string): boolean =>
      roleOfHeading(cell) !== undefined || saysSideOrTrial(cell) || readHeading(cell, words).length > 0;
    return cells.some((cell) => cell !== '') && !cells.some(isHeading);
  });
}

/** An average is a column like an athlete's, and left aside later; L, R and T1 are headings. */
function saysSideOrTrial(cell: string): boolean {
  const qualifier = readQualifier(cell);
  return qualifier !== undefined && qualifier.workedOut === undefined;
}

/**
 * Why no heading line was found. Cells are repeated only if they are known headings: where there is no heading line, the
 * first cells may well be names.
 */
function headerMissing(cuts: readonly Cut[], { protocol, words }: RecogniseContext): SheetProblem {
  // Cut at a mark that is not the sheet's a quote may look open that is closed: the mark with the widest rows is asked.
  const widthOf = ({ rows, openQuote }: Cut): number =>
    rows.reduce((most, row) => Math.max(most, row.length), openQuote?.cells.length ?? 0);
  const { openQuote } = cuts.reduce((best, cut) => (widthOf(cut) > widthOf(best) ? cut : best));
  const open = openQuote !== undefined && openQuote.line <= MOST_TITLE_ROWS ? openQuote : undefined;
  if (open) return { code: 'quote_unclosed', args: { found: `on line ${open.line}` }, line: open.line };
  if (cuts.some(({ rows }) => rows.every((row) => row.every(isBlank)))) return { code: 'file_empty', args: {} };
  const texts = cuts.flatMap(({ rows }) => rows.slice(0, MOST_TITLE_ROWS).flat());
  const measured = texts.find((cell) => readHeading(cell, words).length > 0)?.trim();
  const athlete = texts.find(isAthleteHeading)?.trim();
  const found =
    measured === undefined
      ? athlete && `"${athlete}" is there and nothing that is measured${nearHeadings(cuts, words)}`
      : athlete
        ? `"${athlete}" and "${measured}" stand in no line together`
        : `"${measured}" is there and nothing that says who the athlete is`;
  const first = protocol.measures.find((measure) => !measure.derivation);
  const readings = first?.sides === 'each' ? `${first.name} L, ${first.name} R` : first?.name;
  return { code: 'header_missing', args: { found, example: readings && `athlete_id, ${readings}` } };
}

/** Cells beside the athlete's that share a word with a known heading; any others may be names, and are not repeated. */
function nearHeadings(cuts: readonly Cut[], { known }: HeadingWords): string {
  const line = cuts.flatMap(({ rows }) => rows.slice(0, MOST_TITLE_ROWS)).find((row) => row.some(isAthleteHeading));
  const ofHeadings = new Set(known.flatMap(wordsOf));
  const near = (line ?? []).filter(
    (cell) => cell.length <= LONGEST_ROLE && wordsOf(cell).some((word) => ofHeadings.has(word)),
  );
  const shown = near.slice(0, MOST_SHOWN).map((cell) => `"${cell.trim()}"`);
  if (shown.length === 0) return '';
  const all = shown.length === 1 ? shown[0] : `${shown.slice(0, -1).join(', ')} and ${shown.at(-1)}`;
  return ` (${all} ${shown.length === 1 ? 'is' : 'are'} not understood)`;
}

/** Words by which something is measured; sides and limbs stand in every heading. */
const wordsOf = (text: string): string[] =>
  foldKey(text)
    .split(' ')
    .filter((word) => word.length > 1 && !/^\d/.test(word) && readQualifier(word) === undefined);

/**
 * Decides how a sheet is read, from its first text. Pure: what it returns is what `ingest` does.
 * @param head the first 64 KB or so of the sheet; one with its athletes across the columns must be given whole
 */
export function recognise(head: string, context: RecogniseContext): SheetPlan | SheetProblem {
  const { entry } = context;
  const cuts = (entry.delimiter ? [entry.delimiter] : DELIMITERS).map((delimiter) => ({
    delimiter,
    ...cutRows(head, delimiter),
  }));
  const found = cuts.flatMap((cut) => attempt(cut, context) ?? []);
  if (found.length === 0) return headerMissing(cuts, context);
  const most = Math.max(...found.map(({ draft }) => draft.score));
  const best = found.filter(({ draft }) => draft.score === most);
  const parts = headingsApart(found) ? partsInWords(head, marksOf(found), context.isWhole ?? true) : undefined;
  if (best.length > 1 || parts !== undefined) {
    const choices = marksOf(parts === undefined ? best : found).map((delimiter) => DELIMITER_WORDS[delimiter]);
    return { code: 'delimiter_unknown', args: { choices, found: parts } };
  }
  return planOf(best[0], context);
}

const marksOf = (attempts: readonly Attempt[]): Delimiter[] => attempts.map(({ delimiter }) => delimiter);

/** Whether several marks give headings, each in lines of its own: one sheet stands below another. */
function headingsApart(found: readonly Attempt[]): boolean {
  const lines = new Set(found.map(({ direction, draft }) => (direction === 'down' ? draft.headingRows[0] : -1)));
  return found.length > 1 && lines.size === found.length && !lines.has(-1);
}

/**
 * A line of which nothing but its first cells is filled is no test that stands across from its heading: a title above the
 * athletes, a subtitle or a footnote below.
 */
function withoutTitles(draft: BlockDraft, turnedRows: Rows, delimiter: Delimiter, words: HeadingWords): BlockDraft {
  const below = turnedRows.slice(draft.headingRows[1] + 1);
  const tables = draft.tables.map((table) => {
    const athleteAt = table.columns.findIndex((column) => column.kind === 'role' && isAthleteRole(column.role));
    const columns = table.columns.map((column): ColumnPlan => {
      if (column.kind !== 'rejected' || column.code !== 'heading_unknown') return column;
      const { at, heading, evidence } = column;
      const parted = partedOtherwise([heading], delimiter, words);
      if (parted !== undefined) {
        const args = { found: parted.found, expected: DELIMITER_WORDS[delimiter] };
        return { kind: 'rejected', at, heading: '', evidence, code: 'delimiter_unknown', args };
      }
      const cells = below.filter((row) => !isBlank(row[table.from + at])).length;
      const reason = at < athleteAt && cells <= MOST_TITLE_CELLS ? 'title_line' : cells === 0 ? 'footnote' : undefined;
      return reason ? { kind: 'ignored', at, heading, evidence, reason } : column;
    });
    return { ...table, columns };
  });
  return { ...draft, tables };
}

function planOf({ delimiter, direction, rows, turnedRows, draft }: Attempt, context: RecogniseContext): SheetPlan {
  const { entry, isTeam = () => false } = context;
  const { score: _, ...block } = draft;
  const below = turnedRows.slice(block.headingRows[1] + 1);
  const placesOf = (wanted: (column: ColumnPlan) => boolean): number[] =>
    block.tables.flatMap(({ from, columns }) => columns.filter(wanted).map(({ at }) => from + at));
  const readings = placesOf(({ kind }) => kind === 'reading');
  const dateAt = placesOf((column) => column.kind === 'role' && column.role === 'date');
  const headed = orderInHeadings(block.tables.flatMap(({ columns }) => columns));
  const shown = dateOrderOf(below.flatMap((row) => dateAt.map((at) => row[at] ?? '')));
  const dates = entry.dates ?? headed ?? shown;
  const [table] = block.tables;
  const firstRow =
    direction === 'down'
      ? block.headingRows[0]
      : table.columns.findIndex(({ kind }) => kind === 'role' || kind === 'reading');
  const rowsBelow = direction === 'down' ? below : rows.slice(firstRow + 1);
  // Rows of another sheet, parted by another mark, say nothing of this one.
  const titles = rows
    .slice(0, Math.max(firstRow, 0))
    .map((row) => (partedOtherwise(row, delimiter, context.words) === undefined ? row : []));
  const units = unitsSpokenOf(titles, rowsBelow);
  const decimal = entry.decimal ?? decimalEvidence(below, readings, delimiter);
  const tables = heldByLines(block.tables, units, below);
  return {
    ...block,
    tables: decimal ? tables : tables.map((each) => ({ ...each, columns: withPoints(below, each) })),
    delimiter,
    direction,
    facts: titleFacts(titles, dates, isTeam),
    decimal,
    dates,
    unitsSpoken: units,
    datesFrom: entry.dates ? 'screening' : headed ? 'heading' : shown && 'dates',
  };
}

/** The order of day and month that the heading of the dates gives away: "Date (dd/mm/yyyy)". */
function orderInHeadings(columns: readonly ColumnPlan[]): DateOrder | undefined {
  const dates = columns.filter((column) => column.kind === 'role' && column.role === 'date');
  return dates.map(({ heading }) => dateOrderOfHeading(heading)).find((order) => order !== undefined);
}
